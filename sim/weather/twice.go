package weather

import (
	"maps"
	"slices"

	"drystalk/tongue"
)

// twice is what a file says of dates that it holds more than once.
type twice struct {
	same      int               // values that say the same again
	different map[dayOfYear]int // times that a date said something else than before
}

// dayOfYear is a day of a record: its year, and its day from 0.
type dayOfYear struct{ year, day int }

// put writes a value of a date; a date that comes again is counted, and whether it says the
// same.
func (r *Record) put(at *float64, v float64, year, month, dom int) {
	switch {
	case !has(*at):
	case *at == v:
		r.twice.same++
	default:
		if r.twice.different == nil {
			r.twice.different = map[dayOfYear]int{}
		}
		d := dom - 1
		for m := range month - 1 {
			d += int(monthLength[m])
		}
		r.twice.different[dayOfYear{year, d}]++
	}
	*at = v
}

// examineTwice takes days that the file holds with different values as missing: nobody can tell
// which is right.
func (r *Record) examineTwice() {
	r.findIf(r.twice.same > 0, "%d values stand twice in the file and say the same.", r.twice.same)
	if len(r.twice.different) == 0 {
		return
	}
	days := slices.SortedFunc(maps.Keys(r.twice.different), func(a, b dayOfYear) int { return 365*(a.year-b.year) + a.day - b.day })
	for _, d := range days {
		r.Years[d.year-r.FirstYear][d.day] = noReading()
	}
	r.suspected(false, tongue.Plainf("%d dates stand more than once in the file and say different things; they were taken as missing", len(days)),
		tongue.Plainf("from %s to %s", dateWords(days[0].year, days[0].day), dateWords(days[len(days)-1].year, days[len(days)-1].day)),
		tongue.Say("Keep the right line of each date, and fit again."))
}
