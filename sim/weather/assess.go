package weather

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat"
)

// Line compares one statistic of a record with simulated years.
type Line struct {
	Name      string  `json:"name"`
	Unit      string  `json:"unit"`
	Observed  float64 `json:"observed"`
	Simulated float64 `json:"simulated"` // over all simulated years
	Low       float64 `json:"low"`       // 95 % of simulated blocks as long as the record lie
	High      float64 `json:"high"`      // between Low and High
	Inside    bool    `json:"inside"`
	Weight    bool    `json:"decisive"` // a line on which the verdict rests
}

// FitReport is how well a fitted climate reproduces its record.
type FitReport struct {
	Summary Summary  `json:"summary"`
	Years   int      `json:"simulated_years"`
	Blocks  int      `json:"blocks"`
	Season  []int    `json:"season_months"` // calendar months of the rains, 1 to 12
	Lines   []Line   `json:"lines"`
	Verdict string   `json:"verdict"` // one of the three
	Why     []string `json:"why"`
}

// The verdicts.
const (
	VerdictGood    = "good for planning"
	VerdictCare    = "usable with care"
	VerdictUseless = "not usable"
)

// Assess compares a fitted climate with its record over the given number of simulated
// years. The bands come from blocks of simulated years as long as the record, so that
// they hold what a record of that length can tell; it is an error to ask for fewer than two
// blocks.
func Assess(rec *Record, c Climate, years int, seed uint64) (FitReport, error) {
	s, err := NewClimateSource(c)
	if err != nil {
		return FitReport{}, err
	}
	observed := turned(rec.series(), c.StartDOY, 365-fewestReports)
	if years < 2*len(observed) {
		return FitReport{}, fmt.Errorf("%s: its %d years need at least %d simulated years beside them, %d are asked for", rec.Station, len(observed), 2*len(observed), years)
	}
	r := FitReport{Summary: rec.Summary(), Years: years}
	season := rainyMonths(r.Summary.RainMM)
	for m := range 12 {
		if season[m] {
			r.Season = append(r.Season, m+1)
		}
	}
	simulated := s.SimulatedYears(years, seed)
	r.Lines = statistics(observed, c.StartDOY, season)
	whole := statistics(simulated, c.StartDOY, season)
	r.Blocks = years / len(observed)
	var blocks [][]Line
	for b := range r.Blocks {
		blocks = append(blocks, statistics(simulated[b*len(observed):(b+1)*len(observed)], c.StartDOY, season))
	}
	for i := range r.Lines {
		l := &r.Lines[i]
		l.Simulated = whole[i].Observed
		var values []float64
		for _, b := range blocks {
			values = append(values, b[i].Observed)
		}
		// Few blocks: the band is their mean and deviation, t of about 2.1.
		half := 2.1 * stat.StdDev(values, nil) * math.Sqrt(1+1/float64(len(values)))
		l.Low, l.High = stat.Mean(values, nil)-half, stat.Mean(values, nil)+half
		l.Inside = l.Observed >= l.Low-1e-9 && l.Observed <= l.High+1e-9
	}
	r.judge()
	r.compareWithNormals(c.Rest)
	return r, nil
}

// compareWithNormals doubts a record whose year has far more or less rain than the normals
// that complete it: a unit, a shifted decimal, or another station.
func (r *FitReport) compareWithNormals(n Normals) {
	var record, normal float64
	for m := range 12 {
		record += r.Summary.RainMM[m]
		normal += n.Months[m].RainMM
	}
	if normal > 0 && (record < normal/2.5 || record > 2.5*normal) {
		r.Verdict = VerdictUseless
		r.Why = append([]string{fmt.Sprintf("The record has %.0f mm of rain a year, the normals of %s %.0f: a unit, a shifted decimal, or another station? Settle this first.", record, n.Station, normal)}, r.Why...)
	}
}

// judge gives the verdict and its reasons.
func (r *FitReport) judge() {
	outside, decisive := 0, 0
	for _, l := range r.Lines {
		if !l.Inside {
			outside++
			if l.Weight {
				decisive++
				r.Why = append(r.Why, fmt.Sprintf("%s: %.3g %s observed, %.3g simulated (%.3g to %.3g).", l.Name, l.Observed, l.Unit, l.Simulated, l.Low, l.High))
			}
		}
	}
	r.Verdict = VerdictGood
	if n := r.Summary.Complete; n < 20 {
		r.Verdict = VerdictCare
		r.Why = append(r.Why, fmt.Sprintf("Only %d complete years: rare seasons are hardly known.", n))
	}
	if n := len(r.Summary.Refused); n > 0 {
		r.Why = append(r.Why, fmt.Sprintf("%d years are not used, the first of them %d: %s.", n, r.Summary.Refused[0].Year, r.Summary.Refused[0].Refused))
		if n > r.Summary.Used/3 {
			r.Verdict = VerdictCare
		}
	}
	if decisive > 1 || float64(outside) > 0.2*float64(len(r.Lines)) {
		r.Verdict = VerdictCare
	}
	if decisive > 4 || float64(outside) > 0.45*float64(len(r.Lines)) {
		r.Verdict = VerdictUseless
	}
}

// rainyMonths returns the months in a row around the wettest that have at least a twelfth
// of the year's rain each.
func rainyMonths(rain [12]float64) (in [12]bool) {
	total, wettest := 0.0, 0
	for m, v := range rain {
		total += v
		if v > rain[wettest] {
			wettest = m
		}
	}
	for _, step := range []int{1, 11} {
		for k, m := 0, wettest; k < 12 && rain[m] >= total/12; k++ {
			in[m] = true
			m = (m + step) % 12
		}
	}
	return in
}

// statistics returns the lines of a set of years: Observed holds the value.
func statistics(years [][]float64, startDOY int, season [12]bool) []Line {
	var lines []Line
	add := func(decisive bool, value float64, unit, format string, args ...any) {
		lines = append(lines, Line{Name: fmt.Sprintf(format, args...), Unit: unit, Observed: value, Weight: decisive})
	}
	monthLines(years, startDOY, season, add)
	spellLines(years, startDOY, season, add)
	extremeLines(years, add)
	return lines
}

type adder func(decisive bool, value float64, unit, format string, args ...any)

var monthWords = [12]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}

func monthLines(years [][]float64, startDOY int, season [12]bool, add adder) {
	totals, counts := yearly(years, startDOY)
	sums := monthly(years, startDOY)
	var seasonTotals []float64
	for i := range years {
		t := 0.0
		for m := range 12 {
			if season[m] {
				t += totals[m][i]
			}
		}
		seasonTotals = append(seasonTotals, t)
	}
	for m := range 12 {
		if !season[m] {
			continue
		}
		add(true, sums[m].rain/sums[m].days*monthLength[m], "mm", "mean rain of %s", monthWords[m])
		add(true, sums[m].wet/sums[m].days, "", "share of wet days in %s", monthWords[m])
		add(false, stat.StdDev(totals[m], nil), "mm", "spread of the rain of %s", monthWords[m])
		add(false, stat.StdDev(counts[m], nil), "days", "spread of the wet days of %s", monthWords[m])
	}
	add(true, stat.Mean(seasonTotals, nil), "mm", "mean rain of the rains")
	add(true, stat.StdDev(seasonTotals, nil), "mm", "spread of the rain of the rains")
	add(false, quantile(seasonTotals, 0.1), "mm", "rain of the driest season of ten")
	add(false, quantile(seasonTotals, 0.9), "mm", "rain of the wettest season of ten")
}

// yearly returns total rain and wet days by calendar month and year.
func yearly(years [][]float64, startDOY int) (totals, counts [12][]float64) {
	for _, year := range years {
		var t, n [12]float64
		for d, v := range year {
			m := monthOf((d + startDOY - 1) % 365)
			if has(v) {
				t[m] += v
				if v >= 1 {
					n[m]++
				}
			}
		}
		for m := range 12 {
			totals[m] = append(totals[m], t[m])
			counts[m] = append(counts[m], n[m])
		}
	}
	return totals, counts
}

// spells are the lengths of runs of wet or dry days in a season's days.
func spells(season []float64, wet bool) []int {
	var out []int
	run := 0
	for _, v := range append(append([]float64(nil), season...), missing) {
		if has(v) && (v >= 1) == wet {
			run++
			continue
		}
		if run > 0 {
			out = append(out, run)
		}
		run = 0
	}
	return out
}

func spellLines(years [][]float64, startDOY int, season [12]bool, add adder) {
	var longest [2][]float64
	atLeast := map[[2]int]float64{}
	windows := []float64{}
	for _, year := range years {
		var days []float64
		for d, v := range year {
			if season[monthOf((d+startDOY-1)%365)] {
				days = append(days, v)
			}
		}
		for k, wet := range []bool{false, true} {
			most := 0
			for _, n := range spells(days, wet) {
				most = max(most, n)
				for _, limit := range []int{3, 5, 7, 10, 15} {
					if n >= limit {
						atLeast[[2]int{k, limit}]++
					}
				}
			}
			longest[k] = append(longest[k], float64(most))
		}
		windows = append(windows, float64(dryWindows(days)))
	}
	n := float64(len(years))
	for k, word := range []string{"dry", "wet"} {
		add(true, quantile(longest[k], 0.5), "days", "longest %s spell of the median season", word)
		add(false, quantile(longest[k], 0.9), "days", "longest %s spell of one season in ten", word)
		for _, limit := range []int{3, 5, 7, 10, 15} {
			if k == 0 && limit == 15 {
				continue
			}
			add(limit == 5, atLeast[[2]int{k, limit}]/n, "a season", "%s spells of at least %d days", word, limit)
		}
	}
	add(true, stat.Mean(windows, nil), "a season", "chances of three dry days in a row")
}

// dryWindows counts the days on which three dry days begin.
func dryWindows(days []float64) int {
	n := 0
	for d := 0; d+2 < len(days); d++ {
		if days[d] < 1 && days[d+1] < 1 && days[d+2] < 1 {
			n++
		}
	}
	return n
}

func extremeLines(years [][]float64, add adder) {
	var wet []float64
	for _, year := range years {
		for _, v := range year {
			if v >= 1 {
				wet = append(wet, v)
			}
		}
	}
	for _, p := range []float64{0.5, 0.9, 0.99} {
		add(p != 0.5, quantile(wet, p), "mm", "rain that %g %% of wet days do not pass", 100*p)
	}
	for _, days := range []int{1, 3, 5} {
		var most []float64
		for _, year := range years {
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
			most = append(most, best)
		}
		add(days == 3, quantile(most, 0.5), "mm", "wettest %d days of the median year", days)
		add(false, quantile(most, 0.9), "mm", "wettest %d days of one year in ten", days)
	}
}

// LineOf returns the line of a name; it must exist.
func (r *FitReport) LineOf(name string) Line {
	for _, l := range r.Lines {
		if l.Name == name {
			return l
		}
	}
	panic("weather: no line " + name)
}
