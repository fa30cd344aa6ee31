package weather

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"

	"drystalk/tongue"
)

// Constants of the fit.
const (
	kernelDays     = 10.0 // width of the smoothing of curves
	pseudoDays     = 8.0  // by which second order is drawn to first
	clockAbove     = 8.0  // the clock moves where it rains this much more inside the rains than outside
	fewestYears    = 10
	fitYears       = 1500 // simulated in each pass of a calibration
	lastYears      = 4500 // in its last, so that chance moves the rain of a month by some 1 %
	fewestForClass = 150  // wet days
)

// FitOptions are the choices of a fit.
type FitOptions struct {
	Seed  uint64
	Plain bool // textbook first-order chain and gamma amounts, no clock, no wetness of the year: for comparison
}

// fitter is a fit at work.
type fitter struct {
	c     Climate
	rest  *NormalsSource // of the climate, which no pass changes
	opt   FitOptions
	years [][]float64 // of the record, turned
	on    []float64   // dates of the years as found, days of the clock; NaN where a gap hides them
	off   []float64
}

// Spans of a record with gaps.
const (
	wholeSpan  = 0.75 // of its days a month or the rains must have, to be scaled to its length
	dateWithin = 30   // days on either side of the usual date within which a gap hides it
)

// Fit fits a climate to the rain of a record. The rest of the weather comes from normals.
// It is an error if fewer than ten years are usable or the unit of the record is in doubt.
func Fit(rec *Record, rest Normals, opt FitOptions) (Climate, error) {
	if doubt := rec.Doubt(); len(doubt) > 0 {
		return Climate{}, errors.New(doubt[0])
	}
	series := rec.series()
	f := &fitter{opt: opt}
	f.c = Climate{Station: rec.Station, Rest: rest, StartDOY: driestCentre(series)}
	f.years = turned(series, f.c.StartDOY, 365-fewestReports)
	f.c.FittedYears = len(f.years)
	if len(f.years) < fewestYears {
		return Climate{}, tongue.Errorf("%s: %d usable years of rain, at least %d are needed", rec.Station, len(f.years), fewestYears)
	}
	f.findRains()
	f.fitCurves()
	if opt.Plain {
		f.c.Classes = f.gammaClasses()
		return f.c, nil
	}
	f.fitPersistence()
	var err error
	if f.rest, err = newRest(rest); err != nil {
		return Climate{}, err
	}
	return f.c, f.calibrate()
}

// findRains finds the mean dates and whether the clock moves.
func (f *fitter) findRains() {
	on, off := datesOf(f.years)
	f.c.OnsetDay, f.c.WithdrawalDay = quantile(on, 0.5), quantile(off, 0.5) // where gaps are looked for
	f.on, f.off = f.dates(f.years)
	f.c.OnsetDay, f.c.WithdrawalDay = math.Round(stat.Mean(known(f.on), nil)), math.Round(stat.Mean(known(f.off), nil))
	inside, outside, n, m := 0.0, 0.0, 0.0, 0.0
	for _, year := range f.years {
		for d, v := range year {
			switch x := float64(d); {
			case !has(v):
			case x >= f.c.OnsetDay && x < f.c.WithdrawalDay:
				inside, n = inside+v, n+1
			default:
				outside, m = outside+v, m+1
			}
		}
	}
	f.c.ClockMoves = !f.opt.Plain && inside/n > clockAbove*outside/m
	if f.c.ClockMoves {
		f.c.OnsetSD, f.c.WithdrawalSD = 0.67*stat.StdDev(known(f.on), nil), 0.5*stat.StdDev(known(f.off), nil)
	}
}

// dates returns the dates of years, in order; not a number where a year lacks too much near
// them, and they would be found where the gap begins or ends. Where fewer than ten years are
// whole enough all count.
func (f *fitter) dates(years [][]float64) (on, off []float64) {
	on, off = datesOf(years)
	for _, x := range []struct {
		dates []float64
		usual float64
	}{{on, f.c.OnsetDay}, {off, f.c.WithdrawalDay}} {
		var hidden []int
		for i := range years {
			if lacks(years[i], int(x.usual)) {
				hidden = append(hidden, i)
			}
		}
		if len(years)-len(hidden) < fewestYears {
			continue
		}
		for _, i := range hidden {
			x.dates[i] = missing
		}
	}
	return on, off
}

// lacks tells whether a year lacks more than a quarter of the days around a date.
func lacks(year []float64, date int) bool {
	from, to := max(0, date-dateWithin), min(365, date+dateWithin)
	reports := 0.0
	for _, v := range year[from:to] {
		if has(v) {
			reports++
		}
	}
	return reports < wholeSpan*float64(to-from)
}

// known returns the numbers among x.
func known(x []float64) []float64 {
	var out []float64
	for _, v := range x {
		if has(v) {
			out = append(out, v)
		}
	}
	return out
}

// clockOf returns the clock of a year of the record. What the finding of dates adds as
// noise is taken off by drawing them towards the mean.
func (f *fitter) clockOf(i int) clock {
	drawn := func(date, mean, sd, raw float64) float64 {
		if !(raw > 0) || !has(date) {
			return mean
		}
		return mean + sd/raw*(date-mean)
	}
	c := clock{
		f.c.ClockMoves, f.c.OnsetDay, f.c.WithdrawalDay,
		drawn(f.on[i], f.c.OnsetDay, f.c.OnsetSD, stat.StdDev(known(f.on), nil)),
		drawn(f.off[i], f.c.WithdrawalDay, f.c.WithdrawalSD, stat.StdDev(known(f.off), nil)),
	}
	c.on = max(5, min(c.on, 345))
	c.off = max(c.on+5, min(c.off, 360))
	return c
}

// observation is a day of the record on the clock.
type observation struct {
	year, day, clockDay int
	state               int // as in Climate.Chance; -1 where a day before is missing
	rain                float64
}

func (f *fitter) observations() []observation {
	var out []observation
	for i, year := range f.years {
		c := f.clockOf(i)
		for d, v := range year {
			if !has(v) {
				continue
			}
			o := observation{i, d, c.day(d), -1, v}
			if d >= 2 && has(year[d-1]) && has(year[d-2]) {
				o.state = 0
				if year[d-1] >= 1 {
					o.state = 2
				}
				if year[d-2] >= 1 {
					o.state++
				}
			}
			out = append(out, o)
		}
	}
	return out
}

// segment tells on which side of onset and withdrawal a clock day lies: curves are not
// smoothed across them.
func (f *fitter) segment(d int) int {
	switch x := float64(d); {
	case !f.c.ClockMoves, x < f.c.OnsetDay:
		return 0
	case x < f.c.WithdrawalDay:
		return 1
	}
	return 2
}

// smooth returns for each clock day the kernel mean of sums over counts, with some counts
// of a prior mean added. Without a clock the year is a ring.
func (f *fitter) smooth(sum, count *[365]float64, prior func(d int) float64, weight float64) [365]float64 {
	const reach = 40
	var out [365]float64
	for d := range out {
		top, bottom := weight*prior(d), weight
		for k := -reach; k <= reach; k++ {
			e := d + k
			if !f.c.ClockMoves {
				e = (e + 365) % 365
			}
			if e < 0 || e >= 365 || f.segment(e) != f.segment(d) {
				continue
			}
			w := math.Exp(-0.5 * float64(k*k) / (kernelDays * kernelDays))
			top += w * sum[e]
			bottom += w * count[e]
		}
		out[d] = top / bottom
	}
	return out
}

// fitCurves fits the chances and the mean amounts.
func (f *fitter) fitCurves() {
	var wet, all, excess [365]float64
	var first, firstAll [2][365]float64
	var second, secondAll [4][365]float64
	for _, o := range f.observations() {
		isWet := 0.0
		if o.rain >= 1 {
			isWet = 1
			excess[o.clockDay] += o.rain - 0.95
		}
		wet[o.clockDay] += isWet
		all[o.clockDay]++
		if o.state >= 0 {
			first[o.state/2][o.clockDay] += isWet
			firstAll[o.state/2][o.clockDay]++
			second[o.state][o.clockDay] += isWet
			secondAll[o.state][o.clockDay]++
		}
	}
	base := f.smooth(&wet, &all, func(int) float64 { return floats.Sum(wet[:]) / floats.Sum(all[:]) }, 1)
	var order1 [2][365]float64
	for k := range order1 {
		order1[k] = f.smooth(&first[k], &firstAll[k], func(d int) float64 { return base[d] }, 4)
	}
	for k := range f.c.Chance {
		f.c.Chance[k] = f.smooth(&second[k], &secondAll[k], func(d int) float64 { return order1[k/2][d] }, pseudoDays)
		if f.opt.Plain {
			f.c.Chance[k] = order1[k/2]
		}
	}
	f.c.ExcessMM = f.smooth(&excess, &wet, func(int) float64 { return floats.Sum(excess[:]) / floats.Sum(wet[:]) }, 1)
	f.fitAmounts()
}
