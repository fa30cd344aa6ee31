package stalk

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// The mould model of Hukka & Viitanen 1999 (Wood Science and Technology 33,
// 475-485), for pine sapwood with a resawn surface. Humidity is in per cent as in
// the paper. Assumption: stalks mould like pine times Properties.MouldFactor.

// highestIndex is where mould stops on a wet surface.
const highestIndex = 6.0

// growthMaxC is the temperature from which mould stops growing, °C.
const growthMaxC = 50

// CriticalHumidityPct returns the relative humidity, %, below which mould does not
// grow at tempC, °C, from 0 to 50.
func CriticalHumidityPct(tempC float64) float64 {
	if tempC > 20 {
		return 80
	}
	t := tempC
	return -0.00267*t*t*t + 0.160*t*t - 3.13*t + 100
}

// WeeksToOnset returns t_m, the weeks until growth starts under the microscope
// (index 1) at constant tempC, °C above 0, and humidity, %.
func WeeksToOnset(tempC, humidityPct float64) float64 {
	return math.Exp(-0.68*math.Log(tempC) - 13.9*math.Log(humidityPct) + 66.02)
}

// WeeksToVisible returns t_v, the weeks until growth is visible (index 3).
func WeeksToVisible(tempC, humidityPct float64) float64 {
	return math.Exp(-0.74*math.Log(tempC) - 12.72*math.Log(humidityPct) + 61.50)
}

// Decline returns by how much the index has fallen when growth stopped stillH
// hours ago: 0.032 a day in the first 6 hours, nothing until 24 hours, 0.016 a day
// after that.
func Decline(stillH float64) float64 {
	return 0.032/24*min(stillH, 6) + 0.016/24*max(0, stillH-24)
}

// FullShare returns the share of full grade alone, see Grade.
func FullShare(peakIndex, spread float64) float64 {
	if !(peakIndex > 0) {
		return 1
	}
	return normalCDF(-math.Log(peakIndex) / spread)
}

// CleanIndex returns a peak index up to which FullShare is the same for all above 0: so far below 1
// that the table of the normal distribution ends before it.
func CleanIndex(spread float64) float64 { return (1 - 1e-9) * math.Exp(-normalReach*spread) }

// RejectShare returns the share of rejects alone, see Grade.
func RejectShare(peakIndex, spread float64) float64 {
	if !(peakIndex > 0) {
		return 0
	}
	return 1 - normalCDF(math.Log(3/peakIndex)/spread)
}

// IndexOfFullShare returns the peak index at which the given share is still of full
// grade: the inverse of FullShare. It is infinite for a share of 0 and 0 for 1.
func IndexOfFullShare(share, spread float64) float64 {
	return math.Exp(-spread * distuv.UnitNormal.Quantile(share))
}

// Grade returns the shares of full grade, second grade and rejects among stalks
// whose mean index peaked at peakIndex, when the logarithm of the index is spread
// with standard deviation spread between stalks: below 1 full, 1 to 3 second,
// above 3 reject. Assumption: the spread.
func Grade(peakIndex, spread float64) (full, second, reject float64) {
	if !(peakIndex > 0) {
		return 1, 0, 0
	}
	full, reject = FullShare(peakIndex, spread), RejectShare(peakIndex, spread)
	return full, max(0, 1-full-reject), reject
}

func normalCDF(z float64) float64 {
	return normalTable.at(max(-normalReach, min(normalReach, z)))
}

// SplitWhole splits n whole stalks into parts in proportion to shares, by
// largest remainder; ties go to the earlier part. out receives the parts, which
// add up to n. The sum of shares must be above 0.
func SplitWhole(n int, shares []float64, out []int) {
	sum := 0.0
	for _, s := range shares {
		sum += s
	}
	left := n
	for i, s := range shares {
		out[i] = int(float64(n) * s / sum)
		left -= out[i]
	}
	for ; left > 0; left-- {
		best, most := 0, -1.0
		for i, s := range shares {
			if r := float64(n)*s/sum - float64(out[i]); r > most {
				best, most = i, r
			}
		}
		out[best]++
	}
}

// mouldAir is what an hour of air does to mould, as far as the surface humidity
// does not matter.
type mouldAir struct {
	critical float64 // fraction; above 1 where it is too cold or too hot to grow
	perH     float64 // 1/(168 t_m) at 100 %, 1/h
	ratio    float64 // t_v/t_m at 100 %
}

func newMouldAir(tempC float64) mouldAir {
	var a mouldAir
	a.set(tempC)
	return a
}

func (a *mouldAir) set(tempC float64) {
	if tempC <= 0 || tempC >= growthMaxC {
		a.critical, a.perH, a.ratio = 2, 0, 0
		return
	}
	a.critical = CriticalHumidityPct(tempC) / 100
	if tempC < mouldFromC {
		tm := WeeksToOnset(tempC, 100)
		a.perH, a.ratio = 1/(168*tm), WeeksToVisible(tempC, 100)/tm
		return
	}
	a.perH, a.ratio = mouldTable.at(tempC), ratioTable.at(tempC)
}

// mouldStep lets mould live for hours at the surface humidity, fraction.
// The critical humidity is never below 79.9 %, which the tables hold.
func (s *State) mouldStep(a *mouldAir, surface, hours float64, p *Properties) {
	s.AgeH += hours
	if surface < a.critical {
		s.decline(hours)
		return
	}
	s.grow(a, surface, hours, p)
}

// grow lets mould grow for hours in which the surface is humid enough.
func (s *State) grow(a *mouldAir, surface, hours float64, p *Properties) {
	s.StillH = 0
	if s.AgeH <= p.LivingH {
		return
	}
	index, speed, highest := s.MouldIndex, a.perH, highestIndex
	if surface < 1 {
		x := (a.critical - surface) / (a.critical - 1)
		highest = 1 + 7*x - 2*x*x
		speed *= onsetPower.at(surface)
	}
	short := 2.3 * (index - highest)
	if short >= 0 {
		return
	}
	if short > -deepest {
		speed *= 1 - fallOff.at(short)
	}
	if index >= 1 {
		ratio := a.ratio
		if surface < 1 {
			ratio *= ratioPower.at(surface)
		}
		speed *= 2 / (ratio - 1)
	}
	index += hours * p.MouldFactor * speed
	s.MouldIndex = index
	if index > s.PeakIndex {
		s.PeakIndex = index
	}
}

// decline lets the index fall for hours without growth.
func (s *State) decline(hours float64) {
	before := s.StillH
	s.StillH += hours
	if s.MouldIndex > 0 && (before < 6 || s.StillH > 24) {
		s.MouldIndex = max(0, s.MouldIndex-(Decline(s.StillH)-Decline(before)))
	}
}
