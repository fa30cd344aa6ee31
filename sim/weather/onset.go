package weather

import "math"

// rainCapMM caps a day's rain when dates are sought, so that one storm does not make a
// monsoon.
const rainCapMM = 25

// series is rain by day from 1 January of the first year, mm; NaN where missing or in a
// refused year.
func (r *Record) series() []float64 {
	quality := r.Quality()
	out := make([]float64, 0, 365*len(r.Years))
	for y := range r.Years {
		for d := range r.Years[y] {
			v := r.Years[y][d].RainMM
			if quality[y].Refused != "" {
				v = missing
			}
			out = append(out, v)
		}
	}
	return out
}

// driestCentre returns the day of the year, 1 to 365, in the middle of the driest 91 days.
func driestCentre(series []float64) int {
	var sum, n [365]float64
	for i, v := range series {
		if has(v) {
			sum[i%365] += v
			n[i%365]++
		}
	}
	best, at := math.Inf(1), 0
	for centre := range 365 {
		total := 0.0
		for k := -45; k <= 45; k++ {
			d := ((centre+k)%365 + 365) % 365
			if n[d] > 0 {
				total += sum[d] / n[d]
			}
		}
		if total < best {
			best, at = total, centre
		}
	}
	return at + 1
}

// turned cuts a series into years that begin on startDOY and have at most gaps missing
// days.
func turned(series []float64, startDOY, gaps int) [][]float64 {
	var years [][]float64
	for from := startDOY - 1; from+365 <= len(series); from += 365 {
		year, lacking := series[from:from+365], 0
		for _, v := range year {
			if !has(v) {
				lacking++
			}
		}
		if lacking <= gaps {
			years = append(years, year)
		}
	}
	return years
}

// monsoonDates returns the days of a year, from 0, on which the rains set in and on which
// they have gone, the first day after them: the two between which the capped rain rises most above its mean
// (after Liebmann & Marengo 2001, Journal of Climate 14, 4308).
func monsoonDates(year []float64) (onset, withdrawal int) {
	sum, n := 0.0, 0.0
	for _, v := range year {
		if has(v) {
			sum += min(v, rainCapMM)
			n++
		}
	}
	usual := sum / n
	lowest, lowestAt, best, anomaly := 0.0, -1, math.Inf(-1), 0.0
	for d, v := range year {
		if has(v) {
			anomaly += min(v, rainCapMM) - usual
		}
		if anomaly-lowest > best {
			best, onset, withdrawal = anomaly-lowest, lowestAt+1, d+1
		}
		if anomaly < lowest {
			lowest, lowestAt = anomaly, d
		}
	}
	return onset, withdrawal
}

// datesOf returns the dates of all years.
func datesOf(years [][]float64) (on, off []float64) {
	for _, y := range years {
		a, b := monsoonDates(y)
		on = append(on, float64(a))
		off = append(off, float64(b))
	}
	return on, off
}
