package weather

import "drystalk/sim/air"

// Change is what a user lets a future climate differ by. The program supplies none.
type Change struct {
	TempC          float64 // added to all temperatures; the relative humidity stays
	HumidityPoints float64 // added to the relative humidity of all months, hundredths
	AmountFactor   float64 // on rain of a wet day; 0 means 1
	ChanceProbit   float64 // added to the chance of rain, probit scale
	OnsetDays      float64 // later onset, where the clock moves
}

// Changed returns the normals with what a change does to temperatures and humidity. Warmer air
// holds as large a part of the vapour that it can hold as before, by the mean of the hours of a
// month's mean day: 6 to 7 % more vapour for a degree. Without that, warming would dry the air and
// the stalks with it. Rain is left as it is.
//
// Relative humidity is what stays, nearly, over wide regions and in models of the climate; what a
// shore of a lake will see nobody knows, so the user may state points of humidity.
func (n Normals) Changed(c Change) Normals {
	if c.TempC == 0 && c.HumidityPoints == 0 {
		return n
	}
	for m := range n.Months {
		x := &n.Months[m]
		before := n.meanDay(m).humidity(x.VapourKPa)
		x.TmaxC += c.TempC
		x.TminC += c.TempC
		x.VapourKPa = n.meanDay(m).vapourKPa(before + c.HumidityPoints/100)
	}
	return n
}

// meanDay is the saturation vapour pressure of the hours of a month's mean day, kPa.
type meanDay [24]float64

// meanDay returns the mean day of a month: its mean highest and lowest temperature on the 15th.
func (n *Normals) meanDay(m int) *meanDay {
	x := &n.Months[m]
	c := courseOf([]Day{{TmaxC: x.TmaxC, TminC: x.TminC, WindMS: 1}}, 0, midDOY[m], n.Place)
	var d meanDay
	for h := range d {
		d[h] = air.SaturationKPa(c.tempC(float64(h) + 0.5))
	}
	return &d
}

// humidity returns the mean relative humidity of the 24 hours, fraction, of air with a vapour
// pressure, kPa, that stays through the day; not held at 1 in the hours that it would pass it.
func (d *meanDay) humidity(vapourKPa float64) float64 {
	sum := 0.0
	for _, saturation := range d {
		sum += vapourKPa / saturation
	}
	return sum / 24
}

// vapourKPa returns the vapour pressure, kPa, that gives a mean relative humidity of the 24 hours,
// fraction: h over the mean of 1/e°(T). It is the inverse of humidity, of at least 5 %.
func (d *meanDay) vapourKPa(humidity float64) float64 {
	return max(0.05, humidity) / d.humidity(1)
}
