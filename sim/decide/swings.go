package decide

import (
	"sort"

	"drystalk/sim/trials"
)

// steps compares each number of dryers with one fewer in the seasons that both lived through, from
// the fewest on.
func steps(played []seasons, fewest int) []Step {
	var out []Step
	for n := 1; n < len(played); n++ {
		now, before := &played[n], &played[n-1]
		gain := pairedGain(now.least(), before.least())
		out = append(out, Step{Dryers: fewest + n, Gain: gain, ToldApart: gain.Low > 0 || gain.High < 0})
	}
	return out
}

// pairedGain is PairedGain in the seasons that both have.
func pairedGain(now, before []bool) trials.Mean {
	n := min(len(now), len(before))
	return PairedGain(now[:n], before[:n])
}

// PairedGain returns the mean of now less before over the same seasons.
func PairedGain(now, before []bool) trials.Mean {
	diff := make([]float64, len(now))
	for i := range diff {
		if now[i] {
			diff[i]++
		}
		if before[i] {
			diff[i]--
		}
	}
	return trials.NewMean(diff).OfShares()
}

// swings splits the seasons of the plan to fund, whose draws are given, into thirds by each drawn
// parameter and asks each third for the smallest number that reaches the target, every number by
// those of the seasons that it has lived through.
func (q *Question) swings(draws [][]float64, played []seasons, a Answer) []Swing {
	if q.Setup.Knowledge.Fixed {
		return nil
	}
	met := make([][]bool, len(played)) // of each plan's odds
	for n := range played {
		met[n] = played[n].least()
	}
	at := a.funded()
	var out []Swing
	for k, rng := range q.Setup.Knowledge.Ranges {
		order := make([]int, len(met[at]))
		for i := range order {
			order[i] = i
		}
		sort.SliceStable(order, func(i, j int) bool { return draws[order[i]][k] < draws[order[j]][k] })
		third := len(order) / 3
		if third == 0 {
			return nil
		}
		low, high := order[:third], order[len(order)-third:]
		s := Swing{
			Parameter: rng.Name.String(), Unit: rng.Unit.String(), Measure: rng.Measure.String(),
			LowBelow: draws[low[third-1]][k], HighAbove: draws[high[0]][k],
			OddsLow: oddsIn(low, met[at]), OddsHigh: oddsIn(high, met[at]),
		}
		s.Low, s.LowSeasons = q.neededIn(low, met, a)
		s.High, s.HighSeasons = q.neededIn(high, met, a)
		out = append(out, s)
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].width() > out[j].width() })
	return out
}

// width is how far the odds of the answer's plan move with the parameter.
func (s Swing) width() float64 {
	return max(s.OddsHigh.Share-s.OddsLow.Share, s.OddsLow.Share-s.OddsHigh.Share)
}

// neededIn returns the smallest number of dryers that reaches the target in some seasons, and how
// many of them it has lived through; -1 and none where no number does.
func (q *Question) neededIn(seasons []int, met [][]bool, a Answer) (dryers, of int) {
	for n := range met {
		if o := oddsIn(seasons, met[n]); o.Seasons > 0 && o.Share >= q.Target {
			return a.Plans[n].Dryers, o.Seasons
		}
	}
	return -1, 0
}

// oddsIn returns the odds in those of some seasons that were lived through.
func oddsIn(seasons []int, met []bool) trials.Odds {
	n, of := 0, 0
	for _, i := range seasons {
		if i >= len(met) {
			continue
		}
		if of++; met[i] {
			n++
		}
	}
	return trials.NewOdds(n, of)
}
