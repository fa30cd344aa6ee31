package weather

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"sort"

	"gonum.org/v1/gonum/mathext"
	"gonum.org/v1/gonum/stat/distuv"
)

// Constants of the fit.
const (
	kernelDays     = 10.0 // width of the smoothing of curves
	pseudoDays     = 8.0  // by which second order is drawn to first
	clockAbove     = 8.0  // the clock moves where it rains this much more inside the rains than outside
	fewestYears    = 10
	fitYears       = 1500 // simulated in each pass of a calibration
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
	opt   FitOptions
	years [][]float64 // of the record, turned
	on    []float64   // dates of the years, drawn in by the noise of finding them
	off   []float64
}

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
		return Climate{}, fmt.Errorf("%s: %d usable years of rain, at least %d are needed", rec.Station, len(f.years), fewestYears)
	}
	f.findRains()
	f.fitCurves()
	if opt.Plain {
		f.c.Classes = f.gammaClasses()
		return f.c, nil
	}
	f.fitPersistence()
	return f.c, f.calibrate()
}

// findRains finds the mean dates and whether the clock moves.
func (f *fitter) findRains() {
	f.on, f.off = datesOf(f.years)
	f.c.OnsetDay, f.c.WithdrawalDay = math.Round(mean(f.on)), math.Round(mean(f.off))
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
		f.c.OnsetSD, f.c.WithdrawalSD = 0.67*deviation(f.on), 0.5*deviation(f.off)
	}
}

// clockOf returns the clock of a year of the record. What the finding of dates adds as
// noise is taken off by drawing them towards the mean.
func (f *fitter) clockOf(i int) clock {
	drawn := func(date, mean, sd, raw float64) float64 {
		if !(raw > 0) {
			return mean
		}
		return mean + sd/raw*(date-mean)
	}
	c := clock{
		f.c.ClockMoves, f.c.OnsetDay, f.c.WithdrawalDay,
		drawn(f.on[i], f.c.OnsetDay, f.c.OnsetSD, deviation(f.on)),
		drawn(f.off[i], f.c.WithdrawalDay, f.c.WithdrawalSD, deviation(f.off)),
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
	overall := func(x *[365]float64) (s float64) {
		for _, v := range x {
			s += v
		}
		return s
	}
	base := f.smooth(&wet, &all, func(int) float64 { return overall(&wet) / overall(&all) }, 1)
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
	f.c.ExcessMM = f.smooth(&excess, &wet, func(int) float64 { return overall(&excess) / overall(&wet) }, 1)
	f.fitAmounts()
}

// classOf returns the class of amounts of a clock day.
func (f *fitter) classOf(d int) int {
	switch x := float64(d); {
	case x < f.c.OnsetDay || x >= f.c.WithdrawalDay:
		return 2
	case x >= (f.c.OnsetDay+f.c.WithdrawalDay)/2:
		return 1
	}
	return 0
}

// fitAmounts fits the mixed exponentials of the three classes, pooled where wet days are
// few.
func (f *fitter) fitAmounts() {
	var byClass [3][]float64
	var pooled []float64
	for _, o := range f.observations() {
		if o.rain >= 1 {
			y := (o.rain - 0.95) / f.c.ExcessMM[o.clockDay]
			k := f.classOf(o.clockDay)
			byClass[k] = append(byClass[k], y)
			pooled = append(pooled, y)
		}
	}
	for k := range byClass {
		if len(byClass[k]) < fewestForClass {
			byClass[k] = pooled
		}
		f.c.Classes[k] = FitMixedExponential(byClass[k])
	}
}

// FitMixedExponential fits amounts over their mean by expectation-maximisation.
func FitMixedExponential(y []float64) MixedExponential {
	m := MixedExponential{0.4, 0.3, 1.6}
	for range 300 {
		var w, wy, ry float64
		for _, v := range y {
			a, b := m.P/m.B1*math.Exp(-v/m.B1), (1-m.P)/m.B2*math.Exp(-v/m.B2)
			share := a / (a + b)
			w += share
			wy += share * v
			ry += (1 - share) * v
		}
		n := float64(len(y))
		m = MixedExponential{w / n, wy / w, ry / (n - w)}
	}
	scale := m.P*m.B1 + (1-m.P)*m.B2
	m.B1, m.B2 = m.B1/scale, m.B2/scale
	return m
}

// FitGamma returns shape and scale of a gamma law by maximum likelihood: Newton's method
// from Thom's approximation (Thom 1958, Monthly Weather Review 86, 117).
func FitGamma(y []float64) (shape, scale float64) {
	logs := 0.0
	for _, v := range y {
		logs += math.Log(v)
	}
	a := math.Log(mean(y)) - logs/float64(len(y))
	shape = (1 + math.Sqrt(1+4*a/3)) / (4 * a)
	for range 20 {
		miss := math.Log(shape) - mathext.Digamma(shape) - a
		shape -= miss / (1/shape - mathext.Zeta(2, shape))
	}
	return shape, mean(y) / shape
}

// gammaClasses stands the textbook gamma in the mixed form that matches its variance: used
// by the plain mode alone, whose amounts do not persist.
func (f *fitter) gammaClasses() [3]MixedExponential {
	var y []float64
	for _, o := range f.observations() {
		if o.rain >= 1 {
			y = append(y, (o.rain-0.95)/f.c.ExcessMM[o.clockDay])
		}
	}
	shape, _ := FitGamma(y)
	// Variance 1/shape: P B1² + (1−P) B2² = (1/shape + 1)/2 with mean 1 and P = 0.7.
	const p = 0.7
	second := (1/shape + 1) / 2
	gap := math.Sqrt(max(0, second-1) / (p * (1 - p)))
	mix := MixedExponential{p, 1 - (1-p)*gap, 1 + p*gap}
	if mix.B1 < 0.05 {
		mix.B1 = 0.05
		mix.B2 = (1 - p*mix.B1) / (1 - p)
	}
	return [3]MixedExponential{mix, mix, mix}
}

// fitPersistence fits how amounts persist: the rank correlation of wet days k days apart,
// as a share that decays by a factor a day.
func (f *fitter) fitPersistence() {
	obs := f.observations()
	rank := ranksOfAmounts(obs, &f.c.ExcessMM)
	at := map[[2]int]int{}
	for i, o := range obs {
		if o.rain >= 1 {
			at[[2]int{o.year, o.day}] = i
		}
	}
	var r, weight [7]float64
	for k := 1; k <= 6; k++ {
		var x, y []float64
		for i, o := range obs {
			if o.rain < 1 {
				continue
			}
			if j, ok := at[[2]int{o.year, o.day + k}]; ok {
				x, y = append(x, rank[i]), append(y, rank[j])
			}
		}
		if len(x) > 30 {
			r[k], weight[k] = 2*math.Sin(math.Pi*correlation(x, y)/6), float64(len(x))
		}
	}
	best := math.Inf(1)
	for phi := 0.0; phi < 0.96; phi += 0.01 {
		top, bottom := 0.0, 1e-12
		for k := 1; k <= 6; k++ {
			top += weight[k] * r[k] * math.Pow(phi, float64(k))
			bottom += weight[k] * math.Pow(phi, float64(2*k))
		}
		a := max(0, min(0.95, top/bottom))
		miss := 0.0
		for k := 1; k <= 6; k++ {
			e := r[k] - a*math.Pow(phi, float64(k))
			miss += weight[k] * e * e
		}
		if miss < best {
			best, f.c.SlowShare, f.c.SlowPersistence = miss, a, phi
		}
	}
}

// ranksOfAmounts returns the rank, 0 to 1, of each wet day's amount over its mean.
func ranksOfAmounts(obs []observation, excess *[365]float64) []float64 {
	var wet []int
	for i, o := range obs {
		if o.rain >= 1 {
			wet = append(wet, i)
		}
	}
	value := func(i int) float64 { return (obs[i].rain - 0.95) / excess[obs[i].clockDay] }
	sort.SliceStable(wet, func(a, b int) bool { return value(wet[a]) < value(wet[b]) })
	rank := make([]float64, len(obs))
	for k, i := range wet {
		rank[i] = float64(k) / float64(len(wet))
	}
	return rank
}

func correlation(x, y []float64) float64 {
	mx, my := mean(x), mean(y)
	var xy, xx, yy float64
	for i := range x {
		xy += (x[i] - mx) * (y[i] - my)
		xx += (x[i] - mx) * (x[i] - mx)
		yy += (y[i] - my) * (y[i] - my)
	}
	return xy / math.Sqrt(xx*yy)
}

// SimulatedYears draws the rain of n years that begin on the clock's first day. Year i is
// the same whatever n is.
func (s *ClimateSource) SimulatedYears(n int, seed uint64) [][]float64 {
	days := make([]Day, 365)
	years := make([][]float64, n)
	for i := range years {
		s.draw(days, s.c.StartDOY, rand.New(rand.NewPCG(seed, uint64(i))))
		years[i] = make([]float64, 365)
		for d := range days {
			years[i][d] = days[d].RainMM
		}
	}
	return years
}

// calibrate finds what simulated years must reproduce: the spread of the dates, the means
// of the months, the spread of the season.
func (f *fitter) calibrate() error {
	for range 3 {
		if err := f.calibrateClock(); err != nil {
			return err
		}
		f.fitCurves()
		if err := f.correctMeans(); err != nil {
			return err
		}
	}
	if err := f.calibrateYear(); err != nil {
		return err
	}
	for range 3 {
		if err := f.correctMeans(); err != nil {
			return err
		}
	}
	return nil
}

func (f *fitter) simulate() ([][]float64, error) {
	s, err := NewClimateSource(f.c)
	if err != nil {
		return nil, err
	}
	return s.SimulatedYears(fitYears, f.opt.Seed), nil
}

// calibrateClock takes off the observed spread of dates what finding them adds.
func (f *fitter) calibrateClock() error {
	if !f.c.ClockMoves {
		return nil
	}
	years, err := f.simulate()
	if err != nil {
		return err
	}
	on, off := datesOf(years)
	for _, x := range []struct {
		sd            *float64
		observed, got float64
	}{{&f.c.OnsetSD, deviation(f.on), deviation(on)}, {&f.c.WithdrawalSD, deviation(f.off), deviation(off)}} {
		noise := x.got*x.got - *x.sd**x.sd
		*x.sd = math.Sqrt(max(0, x.observed*x.observed-noise))
	}
	return nil
}

// correctMeans moves chances and amounts by what simulated months miss.
func (f *fitter) correctMeans() error {
	years, err := f.simulate()
	if err != nil {
		return err
	}
	want, got := monthly(f.years, f.c.StartDOY), monthly(years, f.c.StartDOY)
	for d := range 365 {
		m := monthOf((d + f.c.StartDOY - 1) % 365)
		w, g := want[m], got[m]
		if w.wet < 3 || g.wet < 3 {
			continue
		}
		probit := func(p float64) float64 { return distuv.UnitNormal.Quantile(max(1e-4, min(1-1e-4, p))) }
		shift := 0.6 * (probit(w.wet/w.days) - probit(g.wet/g.days))
		for k := range f.c.Chance {
			f.c.Chance[k][d] = normalCDF(probit(f.c.Chance[k][d]) + shift)
		}
		f.c.ExcessMM[d] *= (w.rain/w.wet - 0.95) / (g.rain/g.wet - 0.95)
	}
	return nil
}

// monthSums are days, wet days and their rain in a calendar month over some years.
type monthSums struct{ days, wet, rain float64 }

func monthly(years [][]float64, startDOY int) (out [12]monthSums) {
	for _, year := range years {
		for d, v := range year {
			if has(v) {
				m := &out[monthOf((d+startDOY-1)%365)]
				m.days++
				if v >= 1 {
					m.wet++
					m.rain += v
				}
			}
		}
	}
	return out
}

// calibrateYear finds how much a year's wetness shifts chances and scales amounts, so that
// the spread of the rains between years is that of the record.
func (f *fitter) calibrateYear() error {
	spread := func(occurrence, amount float64) (count, total float64, err error) {
		f.c.YearOccurrence, f.c.YearAmount = occurrence, amount
		years, err := f.simulate()
		if err != nil {
			return 0, 0, err
		}
		count, total = f.rainsSpread(years)
		return count, total, nil
	}
	wantCount, wantTotal := f.rainsSpread(f.years)
	count0, total0, err := spread(0, 0)
	if err != nil {
		return err
	}
	occurrence, amount := 0.08, 0.07
	for range 5 {
		count, total, err := spread(occurrence, amount)
		if err != nil {
			return err
		}
		occurrence *= correction(wantCount, count, count0)
		amount *= correction(wantTotal, total, total0)
		amount = max(amount, 0.005)
		occurrence = max(occurrence, 0.005)
	}
	f.c.YearOccurrence, f.c.YearAmount = min(occurrence, 0.5), min(amount, 0.6)
	return nil
}

// correction returns the factor by which a standard deviation must change for the spread
// to come out as wanted.
func correction(want, got, without float64) float64 {
	if want <= without {
		return 0
	}
	return max(0.4, min(2.5, math.Sqrt((want*want-without*without)/max(1e-9, got*got-without*without))))
}

// rainsSpread returns the standard deviations between years of wet days and of rain inside
// the rains.
func (f *fitter) rainsSpread(years [][]float64) (count, total float64) {
	var counts, totals []float64
	for _, year := range years {
		n, sum := 0.0, 0.0
		for d := int(f.c.OnsetDay); d < int(f.c.WithdrawalDay); d++ {
			if has(year[d]) {
				sum += year[d]
				if year[d] >= 1 {
					n++
				}
			}
		}
		counts, totals = append(counts, n), append(totals, sum)
	}
	return deviation(counts), deviation(totals)
}
