package weather

import (
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/tongue"
)

// yearFacts is what the statistics need to know of one year, of its judged months where nothing
// else is said. A year is looked at once, however many blocks it is drawn into.
type yearFacts struct {
	reports, rain, wet [12]float64   // days, rain of wet days and wet days of all months
	totals, counts     [12]float64   // rain and wet days, scaled to the month; NaN where it lacks more than a quarter
	total              float64       // rain of the judged months; NaN where one is
	longest            [2]float64    // dry and wet spell, days
	atLeast            [2][5]float64 // dry and wet spells of at least spellLimits days
	windows, chances   float64       // three dry days in a row, and three days in a row reported
	most               [3]float64    // rain of the wettest wettestDays days of the whole year
	amounts            []float64     // of wet days of the whole year
}

var (
	spellLimits = [5]int{3, 5, 7, 10, 15} // days
	wettestDays = [3]int{1, 3, 5}
)

// factsOf looks at a year that begins on startDOY.
func factsOf(year []float64, startDOY int, season *[12]bool) yearFacts {
	var f yearFacts
	judged := make([]float64, 365) // days of other months are missing: no spell runs through them
	for d, v := range year {
		m := monthOf((d + startDOY - 1) % 365)
		judged[d] = missing
		if !has(v) {
			continue
		}
		if season[m] {
			judged[d] = v
		}
		f.reports[m]++
		if v >= 1 {
			f.wet[m]++
			f.rain[m] += v
			f.amounts = append(f.amounts, v)
		}
	}
	f.scaleMonths(season)
	for k, wet := range []bool{false, true} {
		for _, n := range spells(judged, wet) {
			f.longest[k] = max(f.longest[k], float64(n))
			for i, limit := range spellLimits {
				if n >= limit {
					f.atLeast[k][i]++
				}
			}
		}
	}
	f.windows, f.chances = dryWindows(judged)
	for k, days := range wettestDays {
		f.most[k] = wettest(year, days)
	}
	return f
}

// scaleMonths scales months that lack a few days to their length.
func (f *yearFacts) scaleMonths(season *[12]bool) {
	for m := range 12 {
		f.totals[m], f.counts[m] = missing, missing
		if f.reports[m] >= wholeSpan*monthLength[m] {
			f.totals[m] = f.rain[m] / f.reports[m] * monthLength[m]
			f.counts[m] = f.wet[m] / f.reports[m] * monthLength[m]
		}
		if season[m] {
			f.total += f.totals[m]
		}
	}
}

// spells are the lengths of runs of wet or dry days; a missing day ends a run.
func spells(days []float64, wet bool) []int {
	var out []int
	run := 0
	for _, v := range days {
		if has(v) && (v >= 1) == wet {
			run++
			continue
		}
		if run > 0 {
			out = append(out, run)
		}
		run = 0
	}
	if run > 0 {
		out = append(out, run)
	}
	return out
}

// dryWindows counts the days on which three dry days begin, and those on which three reported
// days do.
func dryWindows(days []float64) (dry, reported float64) {
	for d := 0; d+2 < len(days); d++ {
		a, b, c := days[d], days[d+1], days[d+2]
		if has(a) && has(b) && has(c) {
			reported++
			if a < 1 && b < 1 && c < 1 {
				dry++
			}
		}
	}
	return dry, reported
}

// wettest returns the largest rain of so many days in a row; missing days add none.
func wettest(year []float64, days int) float64 {
	best := 0.0
	for d := 0; d+days <= len(year); d++ {
		sum := 0.0
		for _, v := range year[d : d+days] {
			if has(v) {
				sum += v
			}
		}
		best = max(best, sum)
	}
	return best
}

// statistics returns the lines of a set of years: Observed holds the value.
func statistics(years [][]float64, startDOY int, season [12]bool) []Line {
	var facts []*yearFacts
	for _, year := range years {
		f := factsOf(year, startDOY, &season)
		facts = append(facts, &f)
	}
	return linesOf(facts, startDOY, &season)
}

// linesOf returns the lines of years that have been looked at. A line that no year can tell is
// not a number.
func linesOf(facts []*yearFacts, startDOY int, season *[12]bool) []Line {
	l := &lines{}
	l.months(facts, season)
	l.spells(facts, possibleWindows(startDOY, season))
	l.extremes(facts)
	return l.list
}

type lines struct{ list []Line }

// add adds a line; t is nil for one that decides nothing.
func (l *lines) add(t *tolerance, value float64, unit, format string, args ...any) {
	line := Line{Name: tongue.Plainf(format, args...), Unit: unit, Observed: value, Weight: t != nil}
	if t != nil {
		line.Tolerance = max(t.share*value, t.least)
	}
	l.list = append(l.list, line)
}

var monthWords = [12]tongue.Text{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

// each returns one number of every year that has it.
func each(facts []*yearFacts, of func(*yearFacts) float64) []float64 {
	out := make([]float64, 0, len(facts))
	for _, f := range facts {
		if v := of(f); has(v) {
			out = append(out, v)
		}
	}
	return out
}

// deviation returns the standard deviation; fewer than two numbers have none.
func deviation(x []float64) float64 {
	if len(x) < 2 {
		return missing
	}
	return stat.StdDev(x, nil)
}

// part returns a quantile; no numbers have none.
func part(x []float64, p float64) float64 {
	if len(x) == 0 {
		return missing
	}
	return quantile(x, p)
}

func (l *lines) months(facts []*yearFacts, season *[12]bool) {
	whole := 0.0
	for m := range 12 {
		if !season[m] {
			continue
		}
		reports, rain, wet := 0.0, 0.0, 0.0
		for _, f := range facts {
			reports, rain, wet = reports+f.reports[m], rain+f.rain[m], wet+f.wet[m]
		}
		mean := rain / reports * monthLength[m]
		whole += mean
		l.add(&ofMonth, mean, "mm", "mean rain of %s", monthWords[m])
		l.add(&ofWetShare, wet/reports, "", "share of wet days in %s", monthWords[m])
		l.add(nil, deviation(each(facts, func(f *yearFacts) float64 { return f.totals[m] })), "mm", "spread of the rain of %s", monthWords[m])
		l.add(nil, deviation(each(facts, func(f *yearFacts) float64 { return f.counts[m] })), "days", "spread of the wet days of %s", monthWords[m])
	}
	totals := each(facts, func(f *yearFacts) float64 { return f.total })
	l.add(&ofRains, whole, "mm", "mean rain of the rains")
	l.add(&ofSpread, deviation(totals), "mm", "spread of the rain of the rains")
	l.add(nil, part(totals, 0.1), "mm", "rain of the driest season of ten")
	l.add(nil, part(totals, 0.9), "mm", "rain of the wettest season of ten")
}

// possibleWindows counts the days of the judged months on which three days in a row begin.
func possibleWindows(startDOY int, season *[12]bool) float64 {
	days := make([]float64, 365)
	for d := range days {
		if !season[monthOf((d+startDOY-1)%365)] {
			days[d] = missing
		}
	}
	_, possible := dryWindows(days)
	return possible
}

func (l *lines) spells(facts []*yearFacts, possible float64) {
	for k, word := range []tongue.Text{"dry", "wet"} {
		longest := each(facts, func(f *yearFacts) float64 { return f.longest[k] })
		l.add(ofLongest[k], part(longest, 0.5), "days", "longest %s spell of the median season", word)
		l.add(nil, part(longest, 0.9), "days", "longest %s spell of one season in ten", word)
		for i, limit := range spellLimits {
			if k == 0 && limit == 15 {
				continue
			}
			var t *tolerance
			if limit == 5 {
				t = ofSpells[k]
			}
			l.add(t, stat.Mean(each(facts, func(f *yearFacts) float64 { return f.atLeast[k][i] }), nil), string(aSeason), "%s spells of at least %d days", word, limit)
		}
	}
	windows, chances := 0.0, 0.0
	for _, f := range facts {
		windows, chances = windows+f.windows, chances+f.chances
	}
	l.add(&ofWindows, windows/chances*possible, string(aSeason), "chances of three dry days in a row")
}

func (l *lines) extremes(facts []*yearFacts) {
	var wet []float64
	for _, f := range facts {
		wet = append(wet, f.amounts...)
	}
	slices.Sort(wet)
	for _, p := range []float64{0.5, 0.9, 0.99} {
		t := &ofAmounts
		if p == 0.5 {
			t = nil
		}
		l.add(t, sortedPart(wet, p), "mm", "rain that %g %% of wet days do not pass", 100*p)
	}
	for k, days := range wettestDays {
		most := each(facts, func(f *yearFacts) float64 { return f.most[k] })
		var t *tolerance
		if days == 3 {
			t = &ofAmounts
		}
		l.add(t, part(most, 0.5), "mm", "wettest %d days of the median year", days)
		l.add(nil, part(most, 0.9), "mm", "wettest %d days of one year in ten", days)
	}
}
