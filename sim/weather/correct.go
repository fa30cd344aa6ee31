package weather

import (
	"math"
	"math/rand/v2"

	"gonum.org/v1/gonum/stat/distuv"
)

// The curves are corrected by simulated years.
const (
	correctionYears  = 1500
	correctionPasses = 3
	enoughWetDays    = 20 // of a month in simulated years, to tell the mean amount by
	yearsAtOnce      = 25 // that are drawn before rain is made of them
)

// A correction looks at rain alone, so only that is made of its years. Their random numbers are those
// of whole days, all of which are drawn: rain is then what it is in whole days. They do not depend on
// the curves, so the numbers of the next years are drawn while rain is made of those before.

// drawnYear is the random numbers behind the rain of a year and of the days before it.
type drawnYear struct {
	luck yearDraws
	days [burnInDays + 365]struct{ u, slow, fast float64 }
}

// draw draws a year as NormalsSource.draw does.
func (y *drawnYear) draw(rng *rand.Rand) {
	y.luck = drawYear(rng)
	for i := range y.days {
		d := &y.days[i]
		d.u, d.slow, d.fast = rng.Float64(), rng.NormFloat64(), rng.NormFloat64()
		for range len(walk{}.residual) {
			rng.NormFloat64()
		}
		rng.Float64() // the wind
	}
}

// drawYears draws the years of a pass, some at a time.
func drawYears(years, pass int) <-chan []drawnYear {
	out := make(chan []drawnYear, 2)
	go func() {
		defer close(out)
		rng := rand.New(rand.NewPCG(1, uint64(pass)))
		for left := years; left > 0; left -= yearsAtOnce {
			list := make([]drawnYear, min(left, yearsAtOnce))
			for y := range list {
				list[y].draw(rng)
			}
			out <- list
		}
	}()
	return out
}

// correct moves the curves of chance and amount by what simulated years miss of the
// normals: the chain lags its curve, the calendar stretches, and a probit is not
// linear.
func (s *NormalsSource) correct(years int) {
	for pass := range correctionPasses {
		var wet, rain [12]float64
		for list := range drawYears(years, pass) {
			for y := range list {
				s.addRain(&list[y], &wet, &rain)
			}
		}
		var shift, factor [12]float64
		for m := range 12 {
			share, excess := s.normals.monthlyWet(m)
			shift[m], factor[m] = 0, 1
			if wet[m] > 0 {
				got := wet[m] / (float64(years) * monthLength[m])
				shift[m] = distuv.UnitNormal.Quantile(min(share, 0.999)) - distuv.UnitNormal.Quantile(min(got, 0.999))
			}
			if wet[m] >= enoughWetDays && rain[m] > 0 {
				factor[m] = excess / (rain[m] / wet[m])
			}
		}
		for d := range 365 {
			m := monthOf(d)
			s.chance[d] += 0.7 * shift[m]
			s.excess[d] *= math.Pow(factor[m], 0.7)
		}
	}
}

// addRain adds the wet days of a year by month, and their rain beyond 1 mm each.
func (s *NormalsSource) addRain(drawn *drawnYear, wet, rain *[12]float64) {
	year := s.year(0, drawn.luck)
	var w walk
	for k := range drawn.days {
		z, i := &drawn.days[k], k-burnInDays
		d := year.turn(&w, i, z.u)
		mm, _ := s.rain(&w, d, year.scale, draws{slow: z.slow, fast: z.fast})
		if i >= 0 && mm >= 1 {
			m := monthOf(i)
			wet[m]++
			rain[m] += mm - 1
		}
	}
}
