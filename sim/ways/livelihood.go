package ways

import (
	"gonum.org/v1/gonum/floats"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// pair is a figure of both ways and what the second has more, season by season.
func pair(a, b lived, of func(l lived, i int) float64) money.Pair {
	n := b.table.Seasons
	x, y := make([]float64, n), make([]float64, n)
	for i := range n {
		x[i], y[i] = of(a, i), of(b, i)
	}
	return pairOf(x, y)
}

func pairOf(a, b []float64) money.Pair {
	more := make([]float64, len(a))
	floats.SubTo(more, b, a)
	return money.Pair{A: trials.NewMean(a), B: trials.NewMean(b), More: trials.NewMean(more)}
}

// secondGrade is the share of the cut that ends as second grade.
func (s *search) secondGrade(a, b lived) money.Pair {
	return pair(a, b, func(l lived, i int) float64 {
		cut := l.table.Of(sim.Cut, s.space.plan, i)
		if cut == 0 {
			return 0
		}
		return l.table.Of(sim.Second, s.space.plan, i) / cut
	})
}

// livelihood adds the hours of a group's own people, and where prices are stated what they have of
// both ways: members their pay and what is left over, groups that hire their hands what is left
// over. A way of working has no price of its own, so nothing is bought.
func (s *search) livelihood(w *Way, a, b lived) error {
	hours := func(l lived) (*money.Play, error) { return money.NewPlay(l.region, l.table, s.space.plan) }
	first, err := hours(a)
	if err != nil {
		return err
	}
	second, err := hours(b)
	if err != nil {
		return err
	}
	if s.Prices != nil {
		if m := money.LivelihoodOf(s.Prices, first, second); m != nil {
			w.Income, w.Hours, w.PerHour = m.Money, m.Hours, m.PerHour
			return nil
		}
		of := [2][]float64{}
		for k, l := range []lived{a, b} {
			if of[k], err = incomes(s.Prices, l, s.space.plan); err != nil {
				return err
			}
		}
		w.Income = pairOf(of[0], of[1])
	}
	w.Hours = pairOf(hoursOf(first), hoursOf(second))
	return nil
}

// hoursOf returns the person-hours of a group's own people season by season.
func hoursOf(y *money.Play) []float64 {
	out := make([]float64, y.Table.Seasons)
	for i := range out {
		for site := range y.Plan {
			out[i] += floats.Sum(y.Hours(site, i))
		}
	}
	return out
}
