package weather

import (
	"math"
	"time"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/tongue"
)

// Weekdays of a sound record differ by chance alone.
const (
	weekdayDoubt   tongue.Text = "Days of the week differ"
	weekdayFewest              = 50   // wet days
	weekdayReports             = 0.3  // of all reports on one weekday, a seventh of which is 0.14
	weekdayShare               = 0.25 // by which the share of wet days of a weekday differs from that of all
	weekdayChance              = 1e-5
	weekdayAmount              = 1.5 // times the rain of all days
	weekdaySDs                 = 6.0
)

// suspectWeekdays looks for days of the week with more rain or reports than others: readings
// entered once a week, or after a weekend.
func (r *Record) suspectWeekdays() {
	var reports, wet [7]float64
	var shares [7][]float64 // of the rain of a year, over that of all days
	for y := range r.Years {
		var n, mm [7]float64
		for d := range r.Years[y] {
			v := r.Years[y][d].RainMM
			if !has(v) {
				continue
			}
			w := int(dateOf(r.FirstYear+y, d).Weekday())
			n[w]++
			mm[w] += v
			if v >= 1 {
				wet[w]++
			}
		}
		usual := floats.Sum(mm[:]) / floats.Sum(n[:])
		for w := range n {
			reports[w] += n[w]
			if n[w] > 0 && usual > 0 {
				shares[w] = append(shares[w], mm[w]/n[w]/usual)
			}
		}
	}
	what, day, found := oddWeekday(reports, wet, shares)
	if found {
		r.suspected(true, tongue.Plainf("%s, as where the rain of several days is entered on one", weekdayDoubt), tongue.Plainf("%ss have %s", day, what),
			tongue.Say("Ask for the daily readings: the sum of several days cannot be split. Blank the days that such a sum covers."))
	}
}

// oddWeekday returns the weekday that differs most and in what, and whether beyond chance and
// size.
func oddWeekday(reports, wet [7]float64, shares [7][]float64) (what string, day time.Weekday, found bool) {
	all, of := floats.Sum(wet[:]), floats.Sum(reports[:])
	if all < weekdayFewest {
		return "", 0, false
	}
	if w := floats.MaxIdx(reports[:]); reports[w] > weekdayReports*of {
		return tongue.Plainf("%.0f %% of all reports", 100*reports[w]/of), time.Weekday(w), true
	}
	p, chi, most := all/of, 0.0, 0.0
	var ratio [7]float64
	for w := range reports {
		if reports[w] == 0 {
			continue
		}
		e := reports[w] * p
		chi += (wet[w] - e) * (wet[w] - e) / (e * (1 - p))
		ratio[w] = wet[w] / e
		most = max(most, math.Abs(ratio[w]-1))
	}
	if w := floats.MaxIdx(ratio[:]); 1-(distuv.ChiSquared{K: 6}).CDF(chi) < weekdayChance && most > weekdayShare {
		return tongue.Plainf("%.1f times the wet days of all days", ratio[w]), time.Weekday(w), true
	}
	for w := range shares {
		if len(shares[w]) < fewestYears {
			continue
		}
		mean, sd := stat.MeanStdDev(shares[w], nil)
		if mean > weekdayAmount && mean-1 > weekdaySDs*sd/math.Sqrt(float64(len(shares[w]))) {
			return tongue.Plainf("%.1f times the rain of all days", mean), time.Weekday(w), true
		}
	}
	return "", 0, false
}
