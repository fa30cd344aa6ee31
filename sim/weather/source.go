package weather

import (
	"math"
	"math/rand/v2"
	"sync"

	"drystalk/sim/air"
	"drystalk/tongue"

	"gonum.org/v1/gonum/stat/distuv"
)

// Constants of the generator from normals. Chain and gamma scale: Geng, Penning de
// Vries & Supit 1986 (Agricultural and Forest Meteorology 36, 363). The spread
// between years and the persistence of amounts are own fits to 190 monsoon
// stations; a second set holds where the rains are sharp.
const (
	chainFactor       = 0.75 // P01 = 0.75 π
	amountPersistence = 0.65 // day-to-day correlation of the slow part of the amount score
	sharpSeasonality  = 8    // wet over dry months
	burnInDays        = 40
)

// spread is how much years differ.
type spread struct {
	occurrence float64 // of the yearly wetness on the chance of rain, probit scale
	amount     float64 // of the yearly wetness on amounts, log scale
	slow       float64 // share of the amount score that persists
}

var (
	plainSpread = spread{0.05, 0.08, 0.2}
	sharpSpread = spread{0.10, 0.15, 0.35}
)

// Day-to-day residuals of Tmax, Tmin, sunshine fraction and vapour pressure:
// x(t) = A x(t−1) + B e(t) (Richardson 1981), own fit to ten years of a monsoon
// station.
var (
	residualA = [4][4]float64{
		{0.535, 0.048, -0.057, 0.101},
		{0.176, 0.302, -0.076, 0.281},
		{0.042, -0.019, 0.250, -0.039},
		{0.058, 0.020, 0.009, 0.499},
	}
	residualB = [4][4]float64{
		{0.830, 0, 0, 0},
		{0.198, 0.795, 0, 0},
		{0.480, -0.156, 0.816, 0},
		{-0.047, 0.251, -0.103, 0.811},
	}
)

// Differences of dry from wet days, and by how much sunshine and the highest
// temperature fall with the rain of the day. Own fits.
const (
	tmaxDryLessWetC = 1.6
	tminDryLessWetC = 0.8
	sunDryLessWet   = 0.33
	sunPerRootMM    = 0.036
	tmaxPerRootMM   = 0.28
)

// scoreSteps is the number of steps of the amount table over scores −4 to 4.
const scoreSteps = 256

// NormalsSource draws days from monthly normals alone. What twelve pairs of numbers
// cannot tell it does not know: long dry spells within the rains come out too
// rare where the monsoon is sharp. It is safe for concurrent use.
type NormalsSource struct {
	normals Normals
	spread  spread
	chance  [365]float64 // of rain, probit scale
	excess  [365]float64 // mean rain above 1 mm on a wet day, mm
	amount  [12][scoreSteps + 1]float64
	root    [12]float64 // mean √R of wet days over √(1+excess)
	mean    [365][2][4]float64
	sd      [365][2][4]float64
	wind    [365]float64
	rains   *rains
}

// NewNormalsSource builds the generator of a climate. Its rain and wet days are corrected
// three times by what simulated years miss of the normals. It is an error if a month has rain
// below 0 or more rain days than days.
func NewNormalsSource(n Normals) (*NormalsSource, error) {
	return newNormalsSource(n, correctionYears)
}

func newNormalsSource(n Normals, correctionYears int) (*NormalsSource, error) {
	s := &NormalsSource{normals: n, spread: plainSpread}
	for m, x := range n.Months {
		if !(x.RainMM >= 0) || !(x.RainDays >= 0) || x.RainDays > monthLength[m] {
			return nil, tongue.Fault("normals: rain must be 0 or more and rain days at most the days of the month")
		}
	}
	if n.seasonality() > sharpSeasonality {
		s.spread = sharpSpread
	}
	var rest sync.WaitGroup
	rest.Go(s.buildRest) // of which the correction of the rain knows nothing
	s.buildRain()
	s.correct(correctionYears)
	rest.Wait()
	return s, nil
}

// newRest builds what normals say of temperatures, sunshine, vapour and wind alone.
func newRest(n Normals) (*NormalsSource, error) {
	s := &NormalsSource{normals: n}
	for _, x := range n.Months {
		if !(x.TminC < x.TmaxC) || !(x.VapourKPa > 0) || !(x.WindMS > 0) {
			return nil, tongue.Fault("normals: temperatures, vapour pressure and wind of all months are needed")
		}
	}
	for m := range n.Months {
		_, excess := n.monthlyWet(m)
		s.buildAmounts(m, excess)
	}
	s.buildRest()
	return s, nil
}

// monthlyWet returns a month's share of wet days and mean excess over 1 mm. Rain on
// days below 1 mm is left out; a month with no wet day gets a small chance so that
// its curve has a value.
func (n *Normals) monthlyWet(m int) (share, excess float64) {
	x := n.Months[m]
	share = x.RainDays / monthLength[m]
	if x.RainDays > 0 {
		excess = x.RainMM/x.RainDays - 1
	}
	return max(share, 1e-4), max(excess, 0.1)
}

func (s *NormalsSource) buildRain() {
	var chance, excess [12]float64
	var wg sync.WaitGroup
	for m := range 12 {
		share, e := s.normals.monthlyWet(m)
		chance[m] = distuv.UnitNormal.Quantile(min(share, 0.999))
		excess[m] = e
		wg.Go(func() { s.buildAmounts(m, e) }) // each writes a table of its own
	}
	wg.Wait()
	s.chance = daily(chance)
	s.excess = daily(excess)
	for d := range s.excess {
		s.excess[d] = max(0.05, s.excess[d])
	}
}

// gammaShape returns the shape of the gamma law of the excess over 1 mm from its mean, mm. The
// scale is β = −2.16 + 1.83 μ (Geng et al. 1986), β = μ below 3 mm.
func gammaShape(mu float64) float64 {
	if mu < 3 {
		return 1
	}
	return mu / (-2.16 + 1.83*mu)
}

// buildAmounts tabulates a unit-mean gamma of the excess by its normal score.
func (s *NormalsSource) buildAmounts(m int, mu float64) {
	alpha := gammaShape(mu)
	g := distuv.Gamma{Alpha: alpha, Beta: alpha} // mean 1
	rootSum, weightSum := 0.0, 0.0
	for i := range s.amount[m] {
		z := -4 + 8*float64(i)/scoreSteps
		q := g.Quantile(distuv.UnitNormal.CDF(z))
		s.amount[m][i] = q
		w := distuv.UnitNormal.Prob(z)
		rootSum += w * math.Sqrt(1+mu*q)
		weightSum += w
	}
	s.root[m] = rootSum / weightSum / math.Sqrt(1+mu)
}

// buildRest sets means and deviations of temperature, sunshine, vapour and wind.
func (s *NormalsSource) buildRest() {
	var means [2][4][12]float64
	var sds [2][4][12]float64
	var wind [12]float64
	for m, x := range s.normals.Months {
		p := x.RainDays / monthLength[m]
		rainy := rainy(p)
		for k, v := range [4]struct{ mean, gap, sdDry, sdWet float64 }{
			{x.TmaxC, tmaxDryLessWetC * rainy, 1.2, 1.5},
			{x.TminC, tminDryLessWetC * rainy, 2.3 - 0.8*rainy, 2.3 - 1.0*rainy},
			{x.SunFraction, sunDryLessWet * rainy, 0.20, 0.25},
			{x.VapourKPa, 0, 0.5 - 0.3*rainy, 0.5 - 0.35*rainy},
		} {
			dry, wet := v.mean+p*v.gap, v.mean-(1-p)*v.gap
			switch k {
			case 2:
				dry, wet = unclipped(dry, v.sdDry), unclipped(wet, v.sdWet)
			case 3:
				dry, wet = undewed(dry, v.sdDry, means[0][1][m], sds[0][1][m]), undewed(wet, v.sdWet, means[1][1][m], sds[1][1][m])
			}
			means[0][k][m], means[1][k][m] = dry, wet
			sds[0][k][m], sds[1][k][m] = v.sdDry, v.sdWet
		}
		wind[m] = x.WindMS
	}
	for wet := range 2 {
		for k := range 4 {
			mean, sd := daily(means[wet][k]), daily(sds[wet][k])
			for d := range 365 {
				s.mean[d][wet][k], s.sd[d][wet][k] = mean[d], max(0.01, sd[d])
			}
		}
	}
	s.wind = daily(wind)
	s.rains = newRains(&s.normals)
}

// Days draws n days from startDOY on.
func (s *NormalsSource) Days(startDOY, n int, rng *rand.Rand) []Day {
	days := make([]Day, n)
	s.draw(days, startDOY-1, rng)
	return days
}

// walk is the state of the generator from day to day.
type walk struct {
	wet      bool
	slow     float64 // persistent part of the amount score
	residual [4]float64
}

// draw fills days from day start of the year, counted from 0, after a burn-in. Each
// day takes the same number of draws whatever comes of it.
func (s *NormalsSource) draw(days []Day, start int, rng *rand.Rand) {
	next := s.from(start, drawYear(rng))
	for i := -burnInDays; i < len(days); i++ {
		day := next(i, rng.Float64(), draws{slow: rng.NormFloat64(), fast: rng.NormFloat64()}, rng)
		if i >= 0 {
			days[i] = day
		}
	}
}

func (s *NormalsSource) begin(startDOY int, luck yearDraws) stepper {
	next := s.from(startDOY-1, luck)
	return func(d int, z draws, rng *rand.Rand) Day {
		return next(d, distuv.UnitNormal.CDF(z.chance), z, rng)
	}
}

// from returns the days of a season from day start of the year on, counted from 0, of a year with
// some luck. u is the uniform number behind the chance of rain.
func (s *NormalsSource) from(start int, luck yearDraws) func(i int, u float64, z draws, rng *rand.Rand) Day {
	y := s.year(start, luck)
	var w walk
	return func(i int, u float64, z draws, rng *rand.Rand) Day {
		d := y.turn(&w, i, u)
		return s.step(&w, d, y.scale, z, rng)
	}
}

// rainYear is what a year with some luck does to the rain of its days.
type rainYear struct {
	s              *NormalsSource
	start, first   int // of the season and of the year's clock, days of the year from 0
	clock          clock
	scale          float64 // on amounts
	widen, wetness float64 // of the chance of rain
}

func (s *NormalsSource) year(start int, luck yearDraws) rainYear {
	first, _, _ := s.normals.Onset.clockYear()
	return rainYear{
		s: s, start: start, first: first, clock: s.newClock(luck),
		scale: math.Exp(s.spread.amount*luck.wetness - s.spread.amount*s.spread.amount/2),
		widen: math.Sqrt(1 + s.spread.occurrence*s.spread.occurrence), wetness: luck.wetness,
	}
}

// turn makes day i of the season wet or dry by a uniform number and returns the day of the usual
// calendar whose weather it has.
func (y *rainYear) turn(w *walk, i int, u float64) int {
	d := (y.clock.day(((y.start-y.first+i)%365+365)%365) + y.first) % 365
	w.turn(u, distuv.UnitNormal.CDF(y.widen*y.s.chance[d]+y.s.spread.occurrence*y.wetness))
	return d
}

// turn makes a day wet or dry by a uniform number and the chance of rain of the day.
func (w *walk) turn(u, chance float64) {
	if w.wet {
		w.wet = u < 1-chainFactor*(1-chance)
	} else {
		w.wet = u < chainFactor*chance
	}
}

func (s *NormalsSource) step(w *walk, d int, scale float64, z draws, rng *rand.Rand) Day {
	var day Day
	rainMM, rootGap := s.rain(w, d, scale, z)
	day.RainMM = rainMM
	s.dress(&day, w, d, rootGap, rng)
	return day
}

// rain returns the rain of a day, mm, and by how much its root lies above that of an ordinary wet day.
func (s *NormalsSource) rain(w *walk, d int, scale float64, z draws) (rainMM, rootGap float64) {
	w.slow = amountPersistence*w.slow + math.Sqrt(1-amountPersistence*amountPersistence)*z.slow
	if !w.wet {
		return 0, 0
	}
	score := math.Sqrt(s.spread.slow)*w.slow + math.Sqrt(1-s.spread.slow)*z.fast
	m := monthOf(d)
	excess := s.excess[d] * scale
	rainMM = round(1+excess*s.amountAt(m, score), 10)
	return rainMM, math.Sqrt(rainMM) - s.root[m]*math.Sqrt(1+excess)
}

// dress gives a day of rain or none its temperatures, sunshine, vapour and wind. d is
// the day of the year from 0, rootGap by how much √R lies above that of an ordinary wet
// day, √mm.
func (s *NormalsSource) dress(day *Day, w *walk, d int, rootGap float64, rng *rand.Rand) {
	w.stepResidual(rng)
	wet := 0
	if w.wet {
		wet = 1
	}
	mean, sd := &s.mean[d][wet], &s.sd[d][wet]
	tmax := mean[0] + sd[0]*w.residual[0] - tmaxPerRootMM*rootGap
	tmin := min(mean[1]+sd[1]*w.residual[1], tmax-1)
	sun := mean[2] + sd[2]*w.residual[2] - sunPerRootMM*rootGap
	day.TmaxC, day.TminC = round(tmax, 10), round(tmin, 10)
	day.SunFraction = round(max(0, min(1, sun)), 100)
	vapour := max(leastHumidity*saturationAt(day.TmaxC), mean[3]+sd[3]*w.residual[3])
	day.VapourKPa = round(min(vapour, saturationAt(day.TminC+1)), 100)
	day.WindMS = round(s.wind[d]*gammaFour(rng), 10)
}

// amountAt returns the unit-mean excess at a normal score.
func (s *NormalsSource) amountAt(m int, score float64) float64 {
	x := max(0, min(scoreSteps-1e-9, (score+4)*(scoreSteps/8)))
	i := int(x)
	t := &s.amount[m]
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}

func (w *walk) stepResidual(rng *rand.Rand) {
	var e [4]float64
	old := w.residual
	for i := range e {
		e[i] = rng.NormFloat64()
		a, b := &residualA[i], &residualB[i]
		x := a[0]*old[0] + a[1]*old[1] + a[2]*old[2] + a[3]*old[3]
		for k := range i + 1 { // B is lower triangular
			x += b[k] * e[k]
		}
		w.residual[i] = x
	}
}

// saturationTenths holds the saturation vapour pressure, kPa, at each tenth of a degree
// from -40 to 80 °C, to which temperatures are rounded.
var saturationTenths = func() (t [1201]float64) {
	for i := range t {
		t[i] = air.SaturationKPa(float64(i)/10 - 40)
	}
	return t
}()

// saturationAt returns the saturation vapour pressure, kPa, at a temperature rounded to
// tenths.
func saturationAt(tempC float64) float64 {
	return saturationTenths[int(max(0, min(1200, 10*tempC+400.5)))]
}

// windTable holds the quantiles of a unit-mean gamma of shape 4: the wind of a day.
var windTable = func() (t [scoreSteps + 1]float64) {
	g := distuv.Gamma{Alpha: 4, Beta: 4}
	for i := range t {
		t[i] = g.Quantile(min(1-1e-4, max(1e-4, float64(i)/scoreSteps)))
	}
	return t
}()

// gammaFour draws from windTable.
func gammaFour(rng *rand.Rand) float64 {
	x := rng.Float64() * scoreSteps
	i := int(x)
	return windTable[i] + (x-float64(i))*(windTable[i+1]-windTable[i])
}

// round rounds to a unit of 1/perUnit.
func round(x, perUnit float64) float64 { return math.Floor(x*perUnit+0.5) / perUnit }
