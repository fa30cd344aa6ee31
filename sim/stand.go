package sim

import "math"

// Cardinal temperatures of growth, °C: nothing at and below the first, most at the second,
// nothing at and above the third, straight lines between. Shape: Wilson, Holst & Rees 2005;
// values: assumption, within an optimum of 28 to 30 °C that is reported.
const (
	growsFromC = 10
	growsBestC = 29
	growsToC   = 40
)

// growthResponse returns the part of the best growth at a temperature, °C.
func growthResponse(tempC float64) float64 {
	rising := (tempC - growsFromC) / (growsBestC - growsFromC)
	falling := (growsToC - tempC) / (growsToC - growsBestC)
	return max(0, min(rising, falling))
}

// GrownKgM2 returns the fresh mass of a mat, kg/m², that held kgM2 some days ago, at the
// given growth, 1/day, response 0 to 1, and capacity, kg/m²: the closed form of the
// logistic between cuts.
func GrownKgM2(kgM2, growthPerDay, response, capacity, days float64) float64 {
	if !(kgM2 > 0) {
		return 0
	}
	return capacity / (1 + (capacity/kgM2-1)*math.Exp(-growthPerDay*response*days))
}

// stand is the plant on the water that a site cuts.
type stand struct {
	*given
	*book

	kgM2         float64 // plant on the mat, fresh
	cutYesterday int     // stalks
	gives        float64 // part of the ordinary output that the stand gives today
}

func (st *stand) begin(g *given, b *book) {
	*st = stand{given: g, book: b, kgM2: g.region.Stand.StartKgM2, gives: 1}
}

// grow lets the stand grow through the last day and takes off what was cut and what a wet
// spell flushed away, and settles what it gives today: where little is left, cutters walk
// further, and after a flush a part of the stalks is silted. Without a stated stand there is
// always enough.
func (st *stand) grow(d int) {
	st.gives = 1
	rules := &st.region.Stand
	if st.site.StandM2 > 0 {
		if d > 0 {
			st.live(d)
		}
		if st.gives = 0; st.kgM2 > 0 { // a bare stand gives nothing, however thin may be cut
			st.gives = st.kgM2 / (st.kgM2 + rules.ThinAtKgM2)
		}
	}
	if st.season.flushedWithin(d, rules.SiltedDays, rules.FlushAboveMM) {
		st.gives *= 1 - rules.SiltedFraction
	}
}

// live takes the mass of the stand from the morning of the day before to that of day d.
func (st *stand) live(d int) {
	rules, day := &st.region.Stand, &st.season.Days[d-1]
	st.kgM2 = GrownKgM2(st.kgM2, rules.GrowthPerDay, growthResponse((day.TmaxC+day.TminC)/2), rules.CapacityKgM2, 1)
	st.kgM2 = max(0, st.kgM2-float64(st.cutYesterday)*rules.KgPerStalk/st.site.StandM2)
	if st.season.flushes(d-1, rules.FlushAboveMM) {
		st.kgM2 *= 1 - rules.FlushedFraction
	}
	for i := range st.site.Closed {
		if c := &st.site.Closed[i]; c.FirstDay == d {
			st.kgM2 *= 1 - c.Removed
		}
	}
}

// thinned returns the luck of a day as far as the stand gives it, and books the stalks that
// it does not give.
func (st *stand) thinned(luck float64) float64 {
	if !(st.gives < 1) {
		return luck
	}
	st.month.NotCutStand += st.cutOf(luck) - st.cutOf(luck*st.gives)
	return luck * st.gives
}

// closed tells whether the stand of the site must not be cut on day d.
func (st *stand) closed(d int) bool {
	for i := range st.site.Closed {
		if c := &st.site.Closed[i]; c.FirstDay <= d && d <= c.LastDay {
			return true
		}
	}
	return false
}

// flushedWithin tells whether a wet spell that flushes mats began within the last days.
func (s *Season) flushedWithin(d, days int, limitMM float64) bool {
	for i := max(0, d-days+1); i <= d; i++ {
		if s.flushes(i, limitMM) {
			return true
		}
	}
	return false
}

// flushes tells whether day d is the first of a wet spell that flushes mats away: three
// days with more rain than the limit, mm; 0 for none.
func (s *Season) flushes(d int, limitMM float64) bool {
	return limitMM > 0 && s.threeDaysMM(d) > limitMM && (d == 0 || s.threeDaysMM(d-1) <= limitMM)
}

// threeDaysMM returns the rain of the three days up to day d, mm.
func (s *Season) threeDaysMM(d int) (mm float64) {
	for i := max(0, d-2); i <= d; i++ {
		mm += s.Days[i].RainMM
	}
	return mm
}
