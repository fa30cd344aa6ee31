package weather

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"

	"drystalk/tongue"
)

// MixedExponential is the law of rain above 1 mm over its mean: with probability P an
// exponential of mean B1, else of mean B2; P·B1 + (1−P)·B2 = 1.
type MixedExponential struct{ P, B1, B2 float64 }

// Climate is the rain of a place fitted to its record, with normals for the rest. Its
// year begins on StartDOY, in the middle of the driest 91 days; days of the clock are
// counted from there, 0 to 364.
//
// Rain on a day depends on the two days before (second-order chain), its amount on a
// score that persists from day to day; onset and withdrawal of the rains stretch the
// calendar, and one number a year makes the whole year wetter or drier (Katz & Parlange
// 1998 and Wilks & Wilby 1999 review why that is needed; the form is our own).
type Climate struct {
	Station                     string
	FittedYears                 int
	StartDOY                    int
	ClockMoves                  bool
	OnsetDay, OnsetSD           float64 // of the clock
	WithdrawalDay, WithdrawalSD float64
	Chance                      [4][365]float64     // of a wet day after dry dry, dry wet, wet dry, wet wet (yesterday, the day before)
	ExcessMM                    [365]float64        // mean rain above 1 mm on a wet day
	Classes                     [3]MixedExponential // first half of the rains, second half, rest of the year
	SlowShare                   float64             // of the amount score that persists
	SlowPersistence             float64             // from day to day
	YearOccurrence              float64             // of the year's wetness on the chance of rain, probit scale
	YearAmount                  float64             // of the year's wetness on amounts, log scale
	Rest                        Normals             // temperatures, sunshine, vapour, wind
	Judged                      Judgement           // how well the fit gives back its record; empty where it was not assessed

	Storms  Storms  // off when the rate is 0
	Change  Change  // none when zero
	Wetness float64 // mean of the year's wetness: 0 as in the record, 1.28 the wettest year of four to five
}

// Storms adds three-day storms: a count a season, each with rain of median TotalMM split
// 25, 50, 25 %, next to no sun, and three times the wind. Assumption: the form.
type Storms struct {
	PerYear float64 // mean count of a year, Poisson, in the rains
	TotalMM float64 // median rain of a storm
	LogSD   float64 // spread of the total
}

// ClimateSource draws days from a fitted climate. It is safe for concurrent use.
type ClimateSource struct {
	c      Climate
	rest   *NormalsSource
	probit [4][365]float64
	amount [3][scoreSteps + 1]float64
	root   [3]float64
	class  [365]int
}

// NewClimateSource prepares a climate for drawing. It is an error if its year does not begin on
// a day of the year, a chance is not 0 to 1, an amount is not above 0, or its normals lack
// temperatures, vapour pressure or wind.
func NewClimateSource(c Climate) (*ClimateSource, error) {
	rest, err := newRest(c.Rest.Changed(c.Change))
	if err != nil {
		return nil, err
	}
	return newClimateSource(c, rest)
}

// newClimateSource is NewClimateSource with the rest of the weather at hand.
func newClimateSource(c Climate, rest *NormalsSource) (*ClimateSource, error) {
	if c.StartDOY < 1 || c.StartDOY > 365 {
		return nil, tongue.Fault("climate: the year must begin on day 1 to 365")
	}
	s := &ClimateSource{c: c, rest: rest}
	for k := range c.Chance {
		for d, p := range c.Chance[k] {
			if !(p >= 0 && p <= 1) || !(c.ExcessMM[d] > 0) {
				return nil, tongue.Fault("climate: chances must be 0 to 1 and amounts above 0")
			}
			s.probit[k][d] = distuv.UnitNormal.Quantile(max(1e-4, min(1-1e-4, p)))
		}
	}
	for k, mix := range c.Classes {
		s.tabulate(k, mix)
	}
	for d := range s.class {
		s.class[d] = c.classOf(d)
	}
	return s, nil
}

// tabulate fills the amounts of a class by normal score.
func (s *ClimateSource) tabulate(k int, mix MixedExponential) {
	roots, weights := 0.0, 0.0
	for i := range s.amount[k] {
		z := -4 + 8*float64(i)/scoreSteps
		q := mix.quantile(distuv.UnitNormal.CDF(z))
		s.amount[k][i] = q
		w := distuv.UnitNormal.Prob(z)
		roots += w * math.Sqrt(q)
		weights += w
	}
	s.root[k] = roots / weights
}

// quantile returns the value not passed with probability u, by bisection.
func (m MixedExponential) quantile(u float64) float64 {
	return bisect(0, 60*max(m.B1, m.B2), 60, func(x float64) bool {
		return m.P*math.Exp(-x/m.B1)+(1-m.P)*math.Exp(-x/m.B2) > 1-u
	})
}

// Days draws n days from startDOY on.
func (s *ClimateSource) Days(startDOY, n int, rng *rand.Rand) []Day {
	days := make([]Day, n)
	s.draw(days, startDOY, rng)
	return days
}

// draw fills days after a burn-in. A season that runs over the start of the clock's year
// keeps its year's luck. Each day takes the same number of draws.
func (s *ClimateSource) draw(days []Day, startDOY int, rng *rand.Rand) {
	next := s.begin(startDOY, drawYear(rng))
	storms := s.newStorms(rng)
	for i := -burnInDays; i < len(days); i++ {
		day := next(i, draws{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}, rng)
		if i >= 0 {
			days[i] = day
		}
	}
	storms.pass(days, s.clockDay(startDOY))
}

// clockDay returns the day of the clock's year of a day of the year.
func (s *ClimateSource) clockDay(doy int) int { return (doy - s.c.StartDOY + 365) % 365 }

func (s *ClimateSource) begin(startDOY int, luck yearDraws) stepper {
	year := s.newYear(luck)
	first := s.clockDay(startDOY)
	var w chainWalk
	return func(d int, z draws, rng *rand.Rand) Day {
		return s.step(&w, ((first+d)%365+365)%365, &year, z, rng)
	}
}

// chainWalk is the state of the chain and of what follows it.
type chainWalk struct {
	walk
	wetBefore bool // the day before yesterday
}

// yearLuck is one year's onset, withdrawal and wetness.
type yearLuck struct {
	clock clock
	shift float64 // of the probit
	widen float64
	scale float64 // of amounts
}

func (s *ClimateSource) newYear(luck yearDraws) yearLuck {
	c := &s.c
	z := luck.wetness + c.Wetness
	y := yearLuck{
		shift: c.YearOccurrence*z + c.Change.ChanceProbit,
		widen: math.Sqrt(1 + c.YearOccurrence*c.YearOccurrence),
		scale: math.Exp(c.YearAmount*z - c.YearAmount*c.YearAmount/2),
	}
	if c.Change.AmountFactor > 0 {
		y.scale *= c.Change.AmountFactor
	}
	y.clock = clock{c.ClockMoves, c.OnsetDay, c.WithdrawalDay, c.OnsetDay + c.Change.OnsetDays + c.OnsetSD*luck.onset, c.WithdrawalDay + c.WithdrawalSD*luck.withdrawal}
	y.clock.on = max(5, min(y.clock.on, 345))
	y.clock.off = max(y.clock.on+5, min(y.clock.off, 360))
	return y
}

// draws are the standard normals behind a day's rain.
type draws struct{ chance, slow, fast float64 }

func (s *ClimateSource) step(w *chainWalk, clockDay int, y *yearLuck, z draws, rng *rand.Rand) Day {
	c := &s.c
	var day Day
	var rootGap float64
	day.RainMM, rootGap = s.rain(w, clockDay, y, z)
	s.rest.dress(&day, &w.walk, (clockDay+c.StartDOY-1)%365, rootGap, rng)
	return day
}

// rain steps the chain by a day and returns the day's rain, mm, and by how much its root passes
// the usual of wet days, √mm.
func (s *ClimateSource) rain(w *chainWalk, clockDay int, y *yearLuck, z draws) (mm, rootGap float64) {
	c := &s.c
	d := y.clock.day(clockDay)
	state := 0
	if w.wet {
		state = 2
	}
	if w.wetBefore {
		state++
	}
	w.wetBefore = w.wet
	w.wet = z.chance < y.widen*s.probit[state][d]+y.shift
	w.slow = c.SlowPersistence*w.slow + math.Sqrt(1-c.SlowPersistence*c.SlowPersistence)*z.slow
	if !w.wet {
		return 0, 0
	}
	score := math.Sqrt(c.SlowShare)*w.slow + math.Sqrt(1-c.SlowShare)*z.fast
	k := s.class[d]
	excess := c.ExcessMM[d] * y.scale
	mm = round(1+excess*tabled(&s.amount[k], score), 10)
	return mm, math.Sqrt(mm) - s.root[k]*math.Sqrt(1+excess)
}

// tabled reads a table of scores −4 to 4.
func tabled(t *[scoreSteps + 1]float64, score float64) float64 {
	x := max(0, min(scoreSteps-1e-9, (score+4)*(scoreSteps/8)))
	i := int(x)
	return t[i] + (x-float64(i))*(t[i+1]-t[i])
}

// storm is one storm of a year.
type storm struct {
	day     int // of the clock, its middle
	totalMM float64
}

type stormList []storm

// newStorms draws the storms of a year, in the rains.
func (s *ClimateSource) newStorms(rng *rand.Rand) stormList {
	if !(s.c.Storms.PerYear > 0) {
		return nil
	}
	n := int(distuv.Poisson{Lambda: s.c.Storms.PerYear, Src: rng}.Rand())
	var list stormList
	for range n {
		span := s.c.WithdrawalDay - s.c.OnsetDay
		list = append(list, storm{
			int(s.c.OnsetDay + span*rng.Float64()),
			s.c.Storms.TotalMM * math.Exp(s.c.Storms.LogSD*rng.NormFloat64()),
		})
	}
	return list
}

// pass lets the storms of a year pass over its days. first is the clock day of the first.
func (list stormList) pass(days []Day, first int) {
	for _, st := range list {
		for k, share := range []float64{0.25, 0.5, 0.25} {
			i := (st.day - 1 + k - first + 730) % 365
			if i < len(days) {
				days[i].RainMM = round(days[i].RainMM+share*st.totalMM, 10)
				days[i].SunFraction = min(days[i].SunFraction, 0.05)
				days[i].WindMS = round(3*days[i].WindMS, 10)
			}
		}
	}
}
