package trials

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"

	"drystalk/sim"
	"drystalk/sim/knowledge"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Known is what a season has shown up to a day, and what is foreseen of the days after. It makes the
// seasons that are drawn like the one at hand: the luck of output is drawn given what was cut, the
// weather given the rain so far, and what cannot be drawn so is weighted (Setup.Weights).
type Known struct {
	Day       int        // of the season, from 0: today
	RainMM    []float64  // of the days before it, by day of the season; not a number where nobody wrote it down; nil: none
	OutlookMM []float64  // rain of the days from Day on, taken as it stands
	Thirds    [3]float64 // chances that the rest of the season is among the driest, the middle and the wettest third of seasons; all 0: as drawn
	Output    []CutSoFar // by site; nil: nothing was written down
}

// CutSoFar is what a site's people cut on days that were written down.
type CutSoFar struct {
	Days    int     // of cutting
	LogMean float64 // mean over them of the logarithm of stalks per person-hour over those that the plan states
}

// tallySD is the spread of the logarithm of a day's stalks per person-hour that comes from counting
// and from hours written down to the quarter. Assumption.
const tallySD = 0.05

// check tells what is wrong with what is known.
func (k *Known) check(s *Setup) error {
	days := s.Region.Calendar.Days
	switch {
	case k.Day < 0 || k.Day >= days:
		return tongue.Errorf("known up to day %d, the season has the days 0 to %d", k.Day, days-1)
	case k.RainMM != nil && len(k.RainMM) != k.Day:
		return tongue.Errorf("rain of %d days, wanted: of the %d before today, or none", len(k.RainMM), k.Day)
	case k.Output != nil && len(k.Output) != len(s.Region.Sites):
		return tongue.Errorf("output of %d sites, the region has %d", len(k.Output), len(s.Region.Sites))
	case (k.RainMM != nil || k.OutlookMM != nil) && s.groups() > 1:
		return tongue.Errorf("the rain of one place is known, sites live in %d weathers", s.groups())
	}
	if sum := k.Thirds[0] + k.Thirds[1] + k.Thirds[2]; k.Thirds != [3]float64{} && !(math.Abs(sum-1) < 1e-6) {
		return tongue.Errorf("chances of the thirds of seasons add up to %g, wanted: 1", sum)
	}
	return nil
}

// likeliest is how many weathers are drawn for a season of which the rain so far is known; the one
// whose past is most like the record is taken. More would be more alike and cost more. Assumption.
const likeliest = 25

// drawn draws the weather of a season given the rain so far and the outlook: of some weathers the
// one whose days before today are most like those recorded, which then stand in their place.
func (k *Known) drawn(s *Setup, n int) []weather.Day {
	c := s.Region.Calendar
	draw := func(i int) []weather.Day {
		purpose := "weather"
		if i > 0 {
			purpose += " " + strconv.Itoa(i)
		}
		return s.Source.Days(c.StartDOY(), c.Days, Stream(s.Seed, uint64(n), RegionWide, purpose))
	}
	days := draw(0)
	if k.anyRain() {
		best := k.unlike(days)
		for i := 1; i < likeliest; i++ {
			if other := draw(i); k.unlike(other) < best {
				days, best = other, k.unlike(other)
			}
		}
	}
	k.overwrite(days)
	return days
}

// anyRain tells whether the rain of any day so far is known.
func (k *Known) anyRain() bool {
	return slices.ContainsFunc(k.RainMM, func(mm float64) bool { return !math.IsNaN(mm) })
}

// Windows by which the rain so far is compared, days; and what a day counts for at most, mm, so that
// one storm does not make a monsoon. Assumption.
var (
	alikeDays = []int{10, 30, 120}
	mostOfDay = 25.0
)

// unlike returns by how much the rain of days before today is unlike that recorded: differences of
// the mean rain of a day over windows before today, mm, and one more where yesterday was dry
// in one of them alone, for wet days come in runs.
func (k *Known) unlike(days []weather.Day) float64 {
	sum := 0.0
	for _, window := range alikeDays {
		drawn, known, counted := 0.0, 0.0, 0
		for d := max(0, k.Day-window); d < k.Day; d++ {
			if mm := k.RainMM[d]; !math.IsNaN(mm) {
				drawn, known, counted = drawn+min(days[d].RainMM, mostOfDay), known+min(mm, mostOfDay), counted+1
			}
		}
		if counted > 0 {
			sum += math.Abs(drawn-known) / float64(counted)
		}
	}
	if y := k.Day - 1; y >= 0 && !math.IsNaN(k.RainMM[y]) && (days[y].RainMM >= 1) != (k.RainMM[y] >= 1) {
		sum++
	}
	return sum
}

// overwrite puts the rain that is known, or foreseen, in the place of that drawn.
func (k *Known) overwrite(days []weather.Day) {
	if !k.anyRain() && len(k.OutlookMM) == 0 {
		return
	}
	as := slices.Clone(days)
	for d, mm := range k.RainMM {
		if !math.IsNaN(mm) {
			days[d] = rainy(as, d, mm)
		}
	}
	for i, mm := range k.OutlookMM {
		if d := k.Day + i; d < len(days) {
			days[d] = rainy(as, d, mm)
		}
	}
}

// aroundDays is within how many days of a date another day of the same season may lend it its
// temperatures, sunshine, vapour and wind. Assumption.
const aroundDays = 15

// rainy returns a day with so much rain: that of the days around a date which had the most similar
// rain, the nearest of equals, with its own rain changed. Below 1 mm a day dries as a dry one.
func rainy(days []weather.Day, date int, mm float64) weather.Day {
	if mm < 1 {
		mm = 0
	}
	best, least := date, math.Abs(days[date].RainMM-mm)
	for away := 1; away <= aroundDays; away++ {
		for _, d := range []int{date - away, date + away} {
			if d >= 0 && d < len(days) && math.Abs(days[d].RainMM-mm) < least {
				best, least = d, math.Abs(days[d].RainMM-mm)
			}
		}
	}
	day := days[best]
	day.RainMM = mm
	return day
}

// lucks are the standard normals behind the season's luck of output: of all sites, and of each.
type lucks struct {
	shared float64
	site   []float64
}

// given turns lucks as drawn into lucks given what was cut so far, of a season whose factor on all
// output is known: the exact law of normals given sums of them, with the same draws behind it.
func (k *Known) given(luck sim.Luck, outputFactor float64, z lucks) lucks {
	if len(k.Output) == 0 {
		return z
	}
	precision, pull := 1.0, 0.0
	for i := range k.Output {
		if rest, variance, ok := k.rest(luck, outputFactor, i); ok {
			precision += luck.OutputSeason * luck.OutputSeason / variance
			pull += luck.OutputSeason * rest / variance
		}
	}
	out := lucks{pull/precision + z.shared/math.Sqrt(precision), slices.Clone(z.site)}
	for i := range k.Output {
		rest, _, ok := k.rest(luck, outputFactor, i)
		if !ok {
			continue
		}
		rest -= luck.OutputSeason * out.shared
		noise := dailySD2(luck) / float64(k.Output[i].Days)
		b := luck.OutputSiteSeason
		p := 1 + b*b/noise
		out.site[i] = b*rest/noise/p + z.site[i]/math.Sqrt(p)
	}
	return out
}

// rest returns what of a site's output is left to luck where the factor on all output is known, on
// the scale of the logarithm, and its variance but for the luck that all sites share.
func (k *Known) rest(luck sim.Luck, outputFactor float64, site int) (rest, variance float64, ok bool) {
	o := &k.Output[site]
	if o.Days == 0 {
		return 0, 0, false
	}
	half := (luck.OutputSeason*luck.OutputSeason + luck.OutputSiteSeason*luck.OutputSiteSeason + luck.OutputDay*luck.OutputDay) / 2
	return o.LogMean - math.Log(outputFactor) + half, luck.OutputSiteSeason*luck.OutputSiteSeason + dailySD2(luck)/float64(o.Days), true
}

// dailySD2 is the variance of the logarithm of a day's output as it is written down.
func dailySD2(luck sim.Luck) float64 { return luck.OutputDay*luck.OutputDay + tallySD*tallySD }

// logLikelihood returns how likely what was cut so far is where the factor on all output is known,
// whatever the luck: the logarithm of its density, but for what is the same for all factors.
func (k *Known) logLikelihood(luck sim.Luck, outputFactor float64) float64 {
	squares, pull, precision := 0.0, 0.0, 1.0
	for i := range k.Output {
		if rest, variance, ok := k.rest(luck, outputFactor, i); ok {
			squares += rest * rest / variance
			pull += luck.OutputSeason * rest / variance
			precision += luck.OutputSeason * luck.OutputSeason / variance
		}
	}
	return -(squares - pull*pull/precision) / 2
}

// Weights returns how much each season of a table counts by Bayes' rule, on average 1: by how likely
// what was cut is with its factor on all output, and by the third of the seasons to which its
// rain from today on belongs. All are 1 where nothing is known.
func (s *Setup) Weights(t *Table) []float64 {
	w := make([]float64, t.Seasons)
	for i := range w {
		w[i] = 1
	}
	k := s.Known
	if k == nil {
		return w
	}
	s.weighOutput(t, w)
	if k.Thirds != [3]float64{} {
		ahead := make([]float64, t.Seasons)
		for i := range ahead {
			ahead[i] = t.AheadMM(i)
		}
		for i, third := range thirdsOf(ahead) {
			w[i] *= 3 * k.Thirds[third]
		}
	}
	sum := 0.0
	for _, x := range w {
		sum += x
	}
	for i := range w {
		w[i] *= float64(len(w)) / sum
	}
	return w
}

// weighOutput weighs seasons by what was cut.
func (s *Setup) weighOutput(t *Table, w []float64) {
	at := slices.IndexFunc(s.Knowledge.Ranges, func(r knowledge.Range) bool { return r.Key == knowledge.OutputFactor })
	if len(s.Known.Output) == 0 || at < 0 {
		return
	}
	best := math.Inf(-1)
	for i := range w {
		w[i] = s.Known.logLikelihood(s.Region.Luck, t.Draws(i)[at])
		best = max(best, w[i])
	}
	for i := range w {
		w[i] = math.Exp(w[i] - best)
	}
}

// Outputs returns the output of all sites in each season of a table, over what the plan states, but for
// the luck of days: as it is drawn, or given what was cut.
func (s *Setup) Outputs(t *Table, given bool) []float64 {
	at := slices.IndexFunc(s.Knowledge.Ranges, func(r knowledge.Range) bool { return r.Key == knowledge.OutputFactor })
	out, shares, luck := make([]float64, t.Seasons), s.Region.Shares(), s.Region.Luck
	for i := range out {
		factor := s.Base.OutputFactor
		if at >= 0 {
			factor = t.Draws(i)[at]
		}
		z, _ := s.seasonLuck(uint64(t.First + i))
		if given && s.Known != nil {
			z = s.Known.given(luck, factor, z)
		}
		for site, share := range shares {
			out[i] += share * factor * logFactor(luck.OutputSeason, z.shared) * logFactor(luck.OutputSiteSeason, z.site[site])
		}
	}
	return out
}

// thirdsOf returns to which third of a list each of its numbers belongs, from 0 for the lowest.
func thirdsOf(list []float64) []int {
	order := make([]int, len(list))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		switch {
		case list[a] < list[b]:
			return -1
		case list[a] > list[b]:
			return 1
		}
		return 0
	})
	out := make([]int, len(list))
	for rank, i := range order {
		out[i] = min(2, 3*rank/len(list))
	}
	return out
}

// seasonLuck draws the lucks of a season, of all sites and of each, and returns the streams of the
// sites from which those of their days are drawn.
func (s *Setup) seasonLuck(number uint64) (z lucks, days []*rand.Rand) {
	z.shared = Stream(s.Seed, number, RegionWide, "output").NormFloat64()
	for i := range s.Region.Sites {
		rng := Stream(s.Seed, number, uint64(i), "output")
		z.site = append(z.site, rng.NormFloat64())
		days = append(days, rng)
	}
	return z, days
}
