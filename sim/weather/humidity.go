package weather

import (
	"math/rand/v2"
	"strings"
	"sync"
	"time"

	"drystalk/sim/air"
	"drystalk/tongue"

	"gonum.org/v1/gonum/stat/distuv"
)

// meanDay is the saturation vapour pressure of the hours of a month's mean day, kPa.
type meanDay [24]float64

// meanDay returns the mean day of a month: its mean highest and lowest temperature on the 15th.
func (n *Normals) meanDay(m int) *meanDay {
	x := &n.Months[m]
	c := NewAlmanac(midDOY[m], n.Place).courseOf([]Day{{TmaxC: x.TmaxC, TminC: x.TminC, WindMS: 1}}, 0)
	var d meanDay
	for h := range d {
		d[h] = air.SaturationKPa(c.tempC(h))
	}
	return &d
}

// vapourKPa returns the vapour pressure, kPa, that stays through the day and gives it a mean
// relative humidity of the 24 hours, fraction: h over the mean of 1/e°(T), the hours not held at
// saturation.
func (d *meanDay) vapourKPa(humidity float64) float64 {
	sum := 0.0
	for _, saturation := range d {
		sum += 1 / saturation
	}
	return humidity * 24 / sum
}

// humidHours are the hours of a month's mean day with the share of them that rain makes wet.
type humidHours struct {
	saturation meanDay
	wet        [24]float64 // in a rain hour or up to two after
}

// rainDraws is how many rain days of a month are drawn to see which hours they wet.
const rainDraws = 400

// humidHours returns the hours of a month.
func (n *Normals) humidHours(m int) *humidHours {
	_, mu := n.monthlyWet(m)
	of := rainOfMonth{month: m, excessMM: mu, rainDays: n.Months[m].RainDays, coast: n.Place.Coast}
	return &humidHours{saturation: *n.meanDay(m), wet: keptWet.of(of)}
}

// rainOfMonth is all that the wet hours of a month depend on.
type rainOfMonth struct {
	month    int
	excessMM float64
	rainDays float64
	coast    bool
}

// keptWet are the wet hours of months that were asked for before: a scenario asks for the same ones
// when it is read and when its seasons are drawn, and so does every further plan of it.
var keptWet = keptHours{by: map[rainOfMonth][24]float64{}}

// keptHours keeps wet hours of months, of so many at most.
type keptHours struct {
	mu sync.Mutex
	by map[rainOfMonth][24]float64
}

// mostHoursKept is how many months are kept.
const mostHoursKept = 1000

func (k *keptHours) of(r rainOfMonth) [24]float64 {
	k.mu.Lock()
	wet, known := k.by[r]
	k.mu.Unlock()
	if known {
		return wet
	}
	wet = r.drawWet()
	k.mu.Lock()
	defer k.mu.Unlock()
	if len(k.by) >= mostHoursKept {
		clear(k.by)
	}
	k.by[r] = wet
	return wet
}

// drawWet returns the share of each hour that rain makes wet: rain days of the month are drawn from a
// stream of their own, with its amounts.
func (r rainOfMonth) drawWet() (wet [24]float64) {
	alpha := gammaShape(r.excessMM)
	amount := distuv.Gamma{Alpha: alpha, Beta: alpha} // mean 1
	rng := rand.New(rand.NewPCG(2, uint64(r.month)))
	share := r.rainDays / monthLength[r.month] / rainDraws
	for i := range rainDraws {
		var rain [24]float64
		drawRainHours(1+r.excessMM*amount.Quantile((float64(i)+0.5)/rainDraws), r.coast, rng, &rain)
		until := -1
		for h := range 24 + wetAfterH {
			if h < 24 && rain[h] >= wetFromMM {
				until = h + wetAfterH
			}
			if h <= until {
				wet[h%24] += share
			}
		}
	}
	return wet
}

// humidity returns the mean relative humidity of the hours, fraction, with a vapour pressure, kPa:
// as the hours of a day have it, held at saturation and in wet hours at least wetHumidity, or what the
// vapour gives air at rainsDownToC.
func (d *humidHours) humidity(vapourKPa float64) float64 {
	sum := 0.0
	wet := min(wetHumidity, vapourKPa/air.SaturationKPa(rainsDownToC))
	for h, saturation := range d.saturation {
		dry := max(leastHumidity, min(1, vapourKPa/saturation))
		sum += dry + d.wet[h]*max(0, wet-dry)
	}
	return sum / 24
}

// vapourKPa returns the vapour pressure, kPa, that gives the hours a mean relative humidity,
// fraction: the inverse of humidity, between what air can hold in the coolest and hottest hour.
func (d *humidHours) vapourKPa(humidity float64) float64 {
	return bisect(0, 2*d.saturation.vapourKPa(1), 50, func(x float64) bool { return d.humidity(x) < humidity })
}

// unreachedBy is by how much the humidity of the hours may miss the one stated, fraction: with what
// chance adds, the hours drawn have what was entered within three points.
const unreachedBy = 0.015

// unreached says which months cannot have the mean humidity that is stated: dew would fall all
// night. Empty where all can.
func (raw *RawNormals) unreached(n *Normals) string {
	out := n.missed(func(m int) (stated, taken float64) {
		return raw.Humidity[m], n.humidHours(m).humidity(n.Months[m].VapourKPa)
	}, unreachedBy)
	if out == "" {
		return ""
	}
	return tongue.Plainf(" With these temperatures some months cannot be as humid as stated; taken: %s.", out)
}

// unheld says which months cannot hold the vapour that is stated, kPa by month, because dew would
// fall all night. Empty where all can.
func (n *Normals) unheld(stated [12]float64) string {
	out := n.missed(func(m int) (float64, float64) {
		if stated[m] <= n.Months[m].VapourKPa { // it is taken whole: the hours need not be drawn
			return 0, 0
		}
		hours := n.humidHours(m)
		if hours.humidity(stated[m])-hours.humidity(n.Months[m].VapourKPa) < unreachedBy {
			return 0, 0
		}
		return stated[m], n.Months[m].VapourKPa
	}, 0)
	if out == "" {
		return ""
	}
	return tongue.Plainf("Vapour pressure: with these temperatures some months cannot hold as much as stated; taken: %s kPa.", out)
}

// missed lists the months in which what is taken lies below what is stated by more than a gap.
func (n *Normals) missed(of func(m int) (stated, taken float64), gap float64) string {
	var out []string
	for m := range n.Months {
		if stated, taken := of(m); taken < stated-gap {
			out = append(out, tongue.Plainf("%s %.2f instead of %.2f", time.Month(m+1), taken, stated))
		}
	}
	return strings.Join(out, ", ")
}
