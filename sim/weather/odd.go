package weather

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/tongue"
)

// This file looks for single amounts that cannot be believed: repeated, stuck, far above all
// others.

// Sizes of a repeated amount. Assumptions, from how gauges are read: amounts above some mm are
// near unique but for round numbers, which are heaped alike.
const (
	repeatedFrom   = 10.0 // mm
	repeatedLeast  = 5    // times
	codedLeast     = 3    // times, of a code for missing
	repeatedChance = 1e-6
	codedChance    = 1e-4
	repeatedGrave  = 0.05 // of the record's rain
)

// missingCodes are amounts that archives write where nothing was read, mm.
var missingCodes = []float64{77.7, 88.8, 99, 99.9, 555, 777, 777.7, 888, 888.8, 999, 999.9}

// suspectRepeated looks for amounts that come far more often than their neighbours: codes for
// missing. It blanks them in the years, so that what else is found is not of their making.
func (r *Record) suspectRepeated(years []reportedYear) {
	count, total := map[float64]int{}, 0.0
	first := map[float64]string{}
	for i := range years {
		for d, v := range years[i].rain {
			if !has(v) {
				continue
			}
			total += v
			if v >= repeatedFrom {
				v = round(v, 10)
				count[v]++
				if first[v] == "" {
					first[v] = dateWords(years[i].year, d)
				}
			}
		}
	}
	var values []float64
	for v := range count {
		values = append(values, v)
	}
	slices.Sort(values)
	for _, v := range values {
		n := count[v]
		if !tooOften(v, values, count) {
			continue
		}
		share := v * float64(n) / total
		r.suspected(share > repeatedGrave,
			tongue.Plainf("The amount %.4g mm comes %d times, far more often than amounts near it: a code for missing?", v, n),
			tongue.Plainf("first on %s; it makes %.0f %% of all rain", first[v], 100*share),
			tongue.Say("Ask what the archive writes for a missing day, blank those days, and fit again."))
		blank(years, v)
	}
}

// blank takes an amount as missing.
func blank(years []reportedYear, amount float64) {
	for i := range years {
		for d, v := range years[i].rain {
			if round(v, 10) == amount {
				years[i].rain[d] = missing
			}
		}
	}
}

// tooOften tells whether an amount comes more often than those near it allow.
func tooOften(v float64, values []float64, count map[float64]int) bool {
	n, least, chance, times := count[v], repeatedLeast, repeatedChance, 3.0
	if slices.Contains(missingCodes, v) {
		least, chance, times = codedLeast, codedChance, 1.5
	}
	if n < least {
		return false
	}
	others, different, second := 0, 0, 0
	for _, w := range values {
		if w != v && w > v/1.5 && w < v*1.5 {
			others += count[w]
			different++
			second = max(second, count[w])
		}
	}
	if different == 0 {
		return true // several times the same, and nothing near it
	}
	usual := 1.5 * float64(others) / float64(different)
	return float64(n) > times*float64(second) && 1-(distuv.Poisson{Lambda: usual}).CDF(float64(n-1)) < chance
}

// suspectStuck looks for the same amount on many days in a row.
func (r *Record) suspectStuck(years []reportedYear) {
	const (
		days = 5
		from = 2.0 // mm
	)
	var where []string
	for i := range years {
		run := 1
		for d := 1; d < 365; d++ {
			if v := years[i].rain[d]; !(v >= from) || v != years[i].rain[d-1] {
				run = 1
				continue
			}
			if run++; run == days {
				where = append(where, tongue.Plainf("%.4g mm until %s or longer", years[i].rain[d], dateWords(years[i].year, d)))
			}
		}
	}
	if len(where) > 0 {
		r.suspected(false, tongue.Plainf("The same amount on %d days in a row or more", days), firstOf(where),
			tongue.Say("A sum that was spread over days, a code for missing or a stuck gauge: blank those days, and fit again."))
	}
}

// Sizes of a day that no other day of its time of year announces. The chance is that of one
// month; with twelve months less than one sound record in eight hundred is suspected.
const (
	tailShape    = 0.20 // of the law of large amounts, above nearly all places of a world-wide survey (Papalexiou & Koutsoyiannis 2013, Water Resources Research 49, 187; from memory)
	tailChance   = 1e-4
	tailFewest   = 30   // wet days
	outlierFrom  = 75.0 // mm
	outliersEach = 3    // of the largest amounts of a month are looked at
)

// suspectOutliers holds the largest amounts of each month against the tail of the others at that
// time of year: a generalised Pareto law with a heavy shape, its scale from the median excess so
// that a few wrong values do not hide themselves.
func (r *Record) suspectOutliers(years []reportedYear) {
	var byMonth [12][]dayAmount
	for i := range years {
		for d, v := range years[i].rain {
			if v >= 1 {
				byMonth[monthOf(d)] = append(byMonth[monthOf(d)], dayAmount{v, years[i].year, d})
			}
		}
	}
	for m := range byMonth {
		slices.SortFunc(byMonth[m], dayAmount.before)
	}
	for m := range byMonth {
		for _, x := range byMonth[m][:min(outliersEach, len(byMonth[m]))] {
			if x.mm < outlierFrom {
				break
			}
			chance, usual := tailOf(x, &byMonth, m)
			if chance < tailChance {
				r.suspected(false,
					tongue.Plainf("%.4g mm in a day, far above every other day at that time of year (one wet day in ten has more than %.3g)", x.mm, usual),
					dateWords(x.year, x.day),
					tongue.Say("Look the day up in the original sheet: a shifted decimal or a month's sum is blanked; a storm that did fall may stay."))
			}
		}
	}
}

// tailOf returns the chance that a record holds an amount as large as x at its time of year, and
// what one wet day in ten there passes: by the wet days of its month and those beside it, of as
// many as it takes.
func tailOf(x dayAmount, byMonth *[12][]dayAmount, m int) (chance, usual float64) {
	wet := slices.Clone(byMonth[m])
	for reach := 1; reach <= 6 && (reach == 1 || len(wet) < tailFewest); reach++ {
		wet = append(append(wet, byMonth[(m+reach)%12]...), byMonth[(m+12-reach)%12]...)
	}
	if len(wet) < tailFewest {
		return 1, 0
	}
	slices.SortFunc(wet, dayAmount.before)
	tail := max(10, len(wet)/10)
	usual = wet[tail].mm
	scale := max(usual/2, tailShape*(wet[tail/2].mm-usual)/(math.Exp2(tailShape)-1)) // an exponential law has 0.43 of what one in ten passes
	return float64(tail) * math.Pow(1+tailShape*(x.mm-usual)/scale, -1/tailShape), usual
}

// dayAmount is the rain of a day.
type dayAmount struct {
	mm        float64
	year, day int
}

// before puts the larger amount first, and of equals the earlier.
func (a dayAmount) before(b dayAmount) int {
	return cmp.Or(cmp.Compare(b.mm, a.mm), cmp.Compare(a.year, b.year), cmp.Compare(a.day, b.day))
}
