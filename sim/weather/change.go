package weather

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
		humidity := x.VapourKPa / n.meanDay(m).vapourKPa(1)
		x.TmaxC += c.TempC
		x.TminC += c.TempC
		x.VapourKPa = max(leastHumidity, humidity+c.HumidityPoints/100) * n.meanDay(m).vapourKPa(1)
	}
	return n
}
