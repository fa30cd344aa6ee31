package weather

import (
	"fmt"
	"math"
	"slices"
	"time"

	"drystalk/tongue"
)

// Suspicion is something in a record that looks like a mistake of whoever kept or copied it:
// what was found, where, and what to do.
type Suspicion struct {
	Found string `json:"found"`
	Where string `json:"where"`
	Do    string `json:"do"`
	Grave bool   `json:"grave"` // the record is not usable until it is settled
}

// String returns the suspicion in one line.
func (s Suspicion) String() string { return s.Found + ": " + s.Where + ". " + s.Do }

// suspect looks for what a sound record does not hold. Each search asks for a size that no
// climate has besides a chance; of sound records fewer than suspectsOfSound are suspected of
// anything, which a test checks on records drawn from normals.
func (r *Record) suspect() {
	years := r.reported()
	r.suspectRepeated(years)
	r.suspectStuck(years)
	r.suspectWeekdays()
	r.suspectSteps(years)
	r.suspectYears(years)
	r.suspectCopies(years)
	r.suspectOutliers(years)
	r.suspectDryMonths(years)
}

// suspectsOfSound is the share of sound records that may be suspected of anything.
const suspectsOfSound = 0.02

func (r *Record) suspected(grave bool, found, where, do string) {
	r.Suspicions = append(r.Suspicions, Suspicion{found, where, do, grave})
}

// reportedYear is a calendar year of a record in which most days were reported.
type reportedYear struct {
	year int
	rain [365]float64 // mm, NaN where missing
}

// reported returns the years with enough reports to be compared with each other.
func (r *Record) reported() []reportedYear {
	var out []reportedYear
	for y := range r.Years {
		one, reports := reportedYear{year: r.FirstYear + y}, 0
		for d := range r.Years[y] {
			one.rain[d] = r.Years[y][d].RainMM
			if has(one.rain[d]) {
				reports++
			}
		}
		if reports >= fewestReports {
			out = append(out, one)
		}
	}
	return out
}

// dateOf returns the date of a day of the year, from 0, of a year without its 29 February.
func dateOf(year, d int) time.Time {
	m := monthOf(d)
	for k := range m {
		d -= int(monthLength[k])
	}
	return time.Date(year, time.Month(m+1), d+1, 0, 0, 0, 0, time.UTC)
}

func dateWords(year, d int) string {
	at := dateOf(year, d)
	return tongue.Plainf("%d %s %d", at.Day(), at.Month(), at.Year())
}

// yearly sums of a year: rain of 365 days, the share of reports with 1 mm, the mean rain of days
// with any.
func (y *reportedYear) sums() (total, wet, perRain float64) {
	n, some := 0.0, 0.0
	for _, v := range y.rain {
		if !has(v) {
			continue
		}
		n++
		total += v
		if v >= 1 {
			wet++
		}
		if v > 0 {
			some++
		}
	}
	return total / n * 365, wet / n, total / max(1, some)
}

// Sizes and chances of a step between two parts of a record. Assumptions: the wettest decades of
// long records have less than a third more rain than their driest; a step of half as much again
// is a gauge, a place or an observer, and one of 2.5 a unit.
const (
	stepRatio   = 1.5
	stepGrave   = 2.5
	stepApart   = 4.0 // of short records, whose parts do not overlap
	stepChance  = 0.001
	fewestParts = 3 // years of a part
)

// suspectSteps compares the years before and after each New Year: Pettitt's test of a change
// (Pettitt 1979, Applied Statistics 28, 126), told only where its medians differ much.
func (r *Record) suspectSteps(years []reportedYear) {
	if len(years) < 2*fewestParts {
		return
	}
	var series [3][]float64
	for i := range years {
		series[0], series[1], series[2] = appendSums(series, &years[i])
	}
	for k, what := range [3]tongue.Text{"the rain of a year", "the share of wet days", "the rain of a day with rain"} {
		at, chance, apart := change(series[k])
		if at < fewestParts || len(years)-at < fewestParts {
			continue
		}
		before, after := quantile(series[k][:at], 0.5), quantile(series[k][at:], 0.5)
		ratio := max(before, after) / max(1e-9, min(before, after))
		if !(ratio >= stepRatio && chance < stepChance) && !(apart && ratio >= stepApart) {
			continue
		}
		r.suspected(ratio >= stepGrave,
			tongue.Plainf("A step: %s is %.3g times %s from one part of the record to the next%s", what, ratio, map[bool]tongue.Text{true: "larger", false: "smaller"}[after > before], likeness(ratio)),
			tongue.Plainf("from %d on, against %d to %d", years[at].year, years[0].year, years[at-1].year),
			tongue.Say("Find out what changed there (unit, gauge, place, observer); convert one part or cut it off, and fit again."))
		return // the other series show the same step
	}
}

func appendSums(series [3][]float64, y *reportedYear) (a, b, c []float64) {
	total, wet, per := y.sums()
	return append(series[0], total), append(series[1], wet), append(series[2], per)
}

// likeness names the mistake that a ratio looks like.
func likeness(ratio float64) string {
	switch {
	case ratio > 18 && ratio < 35:
		return tongue.Say(", as inches are to millimetres")
	case ratio > 7 && ratio < 14:
		return tongue.Say(", as after a shifted decimal")
	}
	return ""
}

// change returns where a series changes by Pettitt's test, the chance of as much in a series
// that does not, and whether the two parts do not overlap.
func change(x []float64) (at int, chance float64, apart bool) {
	n, best := float64(len(x)), 0.0
	for t := 1; t < len(x); t++ {
		u := 0.0
		for _, a := range x[:t] {
			for _, b := range x[t:] {
				switch {
				case a < b:
					u++
				case a > b:
					u--
				}
			}
		}
		if math.Abs(u) > best {
			best, at = math.Abs(u), t
		}
	}
	if at == 0 {
		return 0, 1, false
	}
	apart = best >= float64(at*(len(x)-at))-1e-9
	return at, math.Min(1, 2*math.Exp(-6*best*best/(n*n*n+n*n))), apart
}

// Sizes of a year that is not like the others. Assumption: totals of years are near log-normal,
// so that six deviations are one in five hundred million.
const (
	oddYearRatio = 2.5
	oddYearSDs   = 6.0
	oddYearsOf   = 10  // years
	oddYearsMM   = 100 // rain of the median year
)

// suspectYears looks for single years with far more or less rain than the others.
func (r *Record) suspectYears(years []reportedYear) {
	if len(years) < oddYearsOf {
		return
	}
	var logs []float64
	for i := range years {
		total, _, _ := years[i].sums()
		logs = append(logs, math.Log(max(1, total)))
	}
	median := quantile(logs, 0.5)
	if math.Exp(median) < oddYearsMM {
		return
	}
	sd := max(0.15, (quantile(logs, 0.75)-quantile(logs, 0.25))/1.349)
	var where []string
	for i, l := range logs {
		if math.Abs(l-median) > max(math.Log(oddYearRatio), oddYearSDs*sd) {
			where = append(where, tongue.Plainf("%d with %.0f mm", years[i].year, math.Exp(l)))
		}
	}
	if len(where) > 0 {
		r.suspected(len(where) > len(years)/10, tongue.Plainf("%d year(s) unlike the others, of which the median has %.0f mm", len(where), math.Exp(median)), firstOf(where),
			tongue.Say("Compare with the original sheets (unit, decimal, gaps entered as zeros, another station's year); blank what is wrong, and fit again."))
	}
}

// Sizes of a month that repeats another.
const (
	copyDays   = 8 // with rain, of a month
	copyValues = 4 // different amounts among them
)

// suspectCopies looks for months that repeat those of another year, as they are or times a
// factor.
func (r *Record) suspectCopies(years []reportedYear) {
	for i := range years {
		for j := i + 1; j < len(years); j++ {
			months, factor := 0, 0.0
			first := 0
			for m, at := 0, 0; m < 12; m++ {
				end := at + int(monthLength[m])
				if f, same := repeats(years[i].rain[at:end], years[j].rain[at:end]); same {
					if months == 0 {
						first, factor = m, f
					}
					months++
				}
				at = end
			}
			if months == 0 {
				continue
			}
			times := ""
			if math.Abs(factor-1) > 0.02 {
				times = tongue.Plainf(" times %.3g", factor)
			}
			r.suspected(false,
				tongue.Plainf("Rain that repeats: the same days with the same rain%s in two years", times),
				tongue.Plainf("%d repeats %d in %d month(s), the first of them %s", years[j].year, years[i].year, months, time.Month(first+1)),
				tongue.Say("One of the two was copied: blank the wrong one, and fit again."))
		}
	}
}

// repeats tells whether a month has rain on the same days as another and amounts that are the
// same but for a factor.
func repeats(a, b []float64) (factor float64, same bool) {
	days, sumA, sumB := 0, 0.0, 0.0
	for d := range a {
		if (a[d] > 0) != (b[d] > 0) {
			return 0, false
		}
		if a[d] > 0 {
			days++
			sumA, sumB = sumA+a[d], sumB+b[d]
		}
	}
	if days < copyDays {
		return 0, false
	}
	factor = sumB / sumA
	values := map[float64]bool{}
	for d := range a {
		if a[d] > 0 {
			values[a[d]] = true
			if math.Abs(b[d]-factor*a[d]) > 0.1*(1+factor) {
				return 0, false
			}
		}
	}
	return factor, len(values) >= copyValues
}

// suspectDryMonths looks for months of the rains without any rain: gaps entered as zeros.
func (r *Record) suspectDryMonths(years []reportedYear) {
	const usuallyWet = 0.6 // share of wet days of the month in other years; rains may withdraw before a drier one
	var n, wet [12]float64
	for i := range years {
		for d, v := range years[i].rain {
			if has(v) {
				n[monthOf(d)]++
				if v >= 1 {
					wet[monthOf(d)]++
				}
			}
		}
	}
	var where []string
	for i := range years {
		var reports, rain [12]float64
		for d, v := range years[i].rain {
			if has(v) {
				reports[monthOf(d)]++
				rain[monthOf(d)] += v
			}
		}
		for m := range 12 {
			if reports[m] >= 25 && rain[m] == 0 && wet[m] >= usuallyWet*n[m] {
				where = append(where, fmt.Sprint(time.Month(m+1), " ", years[i].year))
			}
		}
	}
	if len(where) > 0 {
		r.suspected(len(where) > len(years)/4, tongue.Plainf("%d month(s) without a drop where most days are wet: gaps entered as zeros?", len(where)),
			firstOf(where), tongue.Say("Blank what was not read: an empty cell is a gap, a zero is a dry day."))
	}
}

// firstOf names the first few of a list.
func firstOf(where []string) string {
	const most = 4
	if len(where) <= most {
		return joined(where)
	}
	return joined(slices.Clone(where[:most])) + tongue.Plainf(" and %d more", len(where)-most)
}

func joined(words []string) string {
	out := ""
	for i, w := range words {
		if i > 0 {
			out += ", "
		}
		out += w
	}
	return out
}
