package weather

import (
	"fmt"
	"math"
	"math/rand/v2"

	"drystalk/tongue"
)

// Numbered is a source whose seasons are given, not drawn: real years.
type Numbered interface {
	Source
	// Season returns season i, from 0; rng fills what was not recorded.
	Season(i int, rng *rand.Rand) []Day
	// Seasons returns how many there are.
	Seasons() int
}

// RealYears runs through every complete season of a record, as often as Draws says. What the station did not
// record is filled by a generator: rain of missing days, which are counted, and
// temperatures, sunshine, vapour and wind where there is no record, which follow whether
// the day was wet.
type RealYears struct {
	Years  []int // in which the seasons begin
	Filled int   // days of rain filled in all
	Draws  int   // seasons of each year in a row, which differ in luck and in what fills gaps; 0 means 1

	rec      *Record
	gaps     Source
	rest     *NormalsSource
	startDOY int
	days     int
}

// gapDays is the most days of rain a season may lack.
const gapDays = 10

// NewRealYears lists the complete seasons of a record: days from startDOY on. Gaps are
// filled from the source gaps; rest gives what the station did not record.
func NewRealYears(rec *Record, gaps Source, rest Normals, startDOY, days int) (*RealYears, error) {
	if doubt := rec.Doubt(); len(doubt) > 0 {
		return nil, fmt.Errorf("%s: %s", rec.Station, doubt[0])
	}
	filler, err := newRest(rest)
	if err != nil {
		return nil, err
	}
	s := &RealYears{rec: rec, gaps: gaps, rest: filler, startDOY: startDOY, days: days}
	series := rec.series()
	for y := range rec.Years {
		from := 365*y + startDOY - 1
		if from+days > len(series) {
			break
		}
		lacking := 0
		for _, v := range series[from : from+days] {
			if !has(v) {
				lacking++
			}
		}
		if lacking <= gapDays {
			s.Years = append(s.Years, rec.FirstYear+y)
			s.Filled += lacking
		}
	}
	if len(s.Years) == 0 {
		return nil, tongue.Errorf("%s: no season of %d days lacks at most %d days of rain", rec.Station, days, gapDays)
	}
	return s, nil
}

// Seasons returns the number of complete seasons, each as often as it is drawn.
func (s *RealYears) Seasons() int { return len(s.Years) * max(1, s.Draws) }

// Season returns season i: the draws of the first complete year, then those of the next.
func (s *RealYears) Season(i int, rng *rand.Rand) []Day {
	drawn := s.gaps.Days(s.startDOY, s.days, rng)
	from := 365*(s.Years[i/max(1, s.Draws)]-s.rec.FirstYear) + s.startDOY - 1
	var w walk
	for d := range drawn {
		r := s.rec.Years[(from+d)/365][(from+d)%365]
		doy := (from + d) % 365
		rain := r.RainMM
		if !has(rain) {
			rain = drawn[d].RainMM
		}
		if rain < 1 {
			rain = 0 // what falls on days below 1 mm dries as on a dry day
		}
		w.wet = rain >= 1
		rootGap := 0.0
		if w.wet {
			rootGap = math.Sqrt(rain) - s.rest.usualRoot(monthOf(doy))
		}
		day := Day{RainMM: rain}
		s.rest.dress(&day, &w, doy, rootGap, rng)
		day.take(r)
		drawn[d] = day
	}
	return drawn
}

// take puts what was recorded in place of what was drawn.
func (d *Day) take(r Reading) {
	if has(r.TmaxC) && has(r.TminC) && r.TminC <= r.TmaxC-1 {
		d.TmaxC, d.TminC = r.TmaxC, r.TminC
	}
	if has(r.SunFraction) {
		d.SunFraction = max(0, min(1, r.SunFraction))
	}
	if has(r.VapourKPa) && r.VapourKPa > 0 {
		d.VapourKPa = r.VapourKPa
	}
}

// usualRoot returns the mean √R of wet days in a month, √mm, from its normals.
func (s *NormalsSource) usualRoot(m int) float64 {
	_, excess := s.normals.monthlyWet(m)
	return s.root[m] * math.Sqrt(1+excess)
}

// Days draws one of the seasons at random.
func (s *RealYears) Days(_, _ int, rng *rand.Rand) []Day {
	return s.Season(rng.IntN(s.Seasons()), rng)
}
