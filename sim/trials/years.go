package trials

import (
	"sort"

	"drystalk/sim"
	"drystalk/sim/weather"
)

// years are what all plans that live through the same seasons share: their numbers, the rain, and by
// what the parameters were drawn, which are drawn again when they are asked for.
type years struct {
	setup   *Setup
	first   int
	numbers []int // of the seasons, where they are not first, first+1, ...
	spans   []sim.Span
	rainMM  []float64 // season after season, by month
	aheadMM []float64 // by season, from the day on which it is taken up
}

func newYears(s *Setup, first, n int) *years {
	spans, by := s.Region.Calendar.Months(), *s
	by.Workers = 0 // nothing that is drawn depends on them
	return &years{setup: &by, first: first, spans: spans, rainMM: make([]float64, n*len(spans)), aheadMM: make([]float64, n)}
}

// number returns the number of the i-th season.
func (y *years) number(i int) int {
	if y.numbers != nil {
		return y.numbers[i]
	}
	return y.first + i
}

// putRain writes the rain of a season by month.
func (y *years) putRain(i int, days []weather.Day) {
	for k, span := range y.spans {
		sum := 0.0
		for d := span.FirstDay; d <= span.LastDay; d++ {
			sum += days[d].RainMM
		}
		y.rainMM[i*len(y.spans)+k] = sum
	}
	y.aheadMM[i] = 0
	for d := y.setup.Region.Start.Day; d <= y.spans[len(y.spans)-1].LastDay; d++ {
		y.aheadMM[i] += days[d].RainMM
	}
}

// yearsFrom is some seasons of a table, from one on.
type yearsFrom struct {
	from int
	*years
}

// year returns what plans share of season i, and its place there.
func (t *Table) year(i int) (y *years, at int) {
	k := sort.Search(len(t.years), func(k int) bool { return t.years[k].from > i }) - 1
	return t.years[k].years, i - t.years[k].from
}

// Draws returns the parameters drawn for season i, in the order of Knowledge.Ranges. They are not kept:
// what hangs on the number of a season alone is drawn once more.
func (t *Table) Draws(i int) []float64 {
	y, at := t.year(i)
	return y.setup.drawsOf(y.number(at))
}

// AllDraws returns the parameters drawn for the first n seasons.
func (t *Table) AllDraws(n int) [][]float64 {
	out := make([][]float64, n)
	for i := range out {
		out[i] = t.Draws(i)
	}
	return out
}

// RainMM returns the rain of season i by month, of the first group of sites.
func (t *Table) RainMM(i int) []float64 {
	y, at := t.year(i)
	n := len(y.spans)
	return y.rainMM[at*n : (at+1)*n]
}

// AheadMM returns the rain of season i from the day on which the season is taken up, of the first
// group of sites.
func (t *Table) AheadMM(i int) float64 {
	y, at := t.year(i)
	return y.aheadMM[at]
}
