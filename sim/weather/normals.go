package weather

import (
	"math"
	"slices"
	"strings"

	"drystalk/sim/air"
	"drystalk/tongue"
)

// MonthNormal is the long-term mean of one calendar month.
type MonthNormal struct {
	RainMM      float64 // rain of the month, mm
	RainDays    float64 // days with at least 1 mm
	TmaxC       float64 // mean daily maximum, °C
	TminC       float64 // mean daily minimum, °C
	SunFraction float64 // bright sunshine over day length
	VapourKPa   float64 // mean vapour pressure, kPa
	WindMS      float64 // mean wind at 2 m, m/s
}

// Normals is the climate of a place by month, complete.
type Normals struct {
	Station string
	Place   Place
	Months  [12]MonthNormal
	Filled  []string // one sentence for each variable that was not recorded: what stands in, and its source
	Onset   Monsoon  // optional
}

// Monsoon is the usual day on which the rains set in and withdraw, and how much
// the days vary from year to year; rains that run over New Year withdraw on an earlier day of the
// year than they set in. Zero: the calendar is not moved.
type Monsoon struct {
	OnsetDOY, OnsetSD           float64
	WithdrawalDOY, WithdrawalSD float64
}

// clockYear returns the day of the year, from 0, on which the year of the clock begins, and onset and
// withdrawal counted from it: 1 January, or the middle of the dry season where rains run over New Year.
func (m Monsoon) clockYear() (start int, onset, withdrawal float64) {
	if m.OnsetDOY <= m.WithdrawalDOY {
		return 0, m.OnsetDOY, m.WithdrawalDOY
	}
	start = int(m.WithdrawalDOY+m.OnsetDOY) / 2
	return start, m.OnsetDOY - float64(start), m.WithdrawalDOY + 365 - float64(start)
}

// moves tells whether the monsoon moves the calendar.
func (m Monsoon) moves() bool { return m.OnsetSD > 0 || m.WithdrawalSD > 0 }

// RawNormals is a climate table as recorded: nil where a variable is missing.
type RawNormals struct {
	Station       string
	Country       string  // "" where not told
	LongitudeDeg  float64 // east positive; 0 where not told
	Place         Place
	RainMM        *[12]float64
	Days1MM       *[12]float64 // days with at least 1 mm
	Days03MM      *[12]float64 // at least 0.3 mm
	Days25MM      *[12]float64 // at least 2.5 mm
	TmaxC, TminC  *[12]float64
	VapourKPa     *[12]float64
	DewPointC     *[12]float64
	Humidity      *[12]float64 // mean of day and night, fraction
	Morning       *[12]float64 // relative humidity at the lowest temperature of the day, fraction; with Afternoon
	Afternoon     *[12]float64 // at the highest, fraction
	SunshineH     *[12]float64 // hours of the month
	SunFraction   *[12]float64
	WindMS        *[12]float64    // at 2 m
	RainQuintiles [6]*[12]float64 // Q0 to Q5 of monthly rain, mm; for checks
}

var monthLength = [12]float64{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31}

// midDOY is the day of the year of the 15th of each month, for the sun of a month.
// Source: FAO-56, annex 2, table 2.5.
var midDOY = [12]int{15, 46, 74, 105, 135, 166, 196, 227, 258, 288, 319, 349}

// FillNormals completes a climate table with the FAO-56 stand-ins for missing
// humidity, sunshine and wind, each said in Filled. Rain, highest and lowest temperatures
// have no stand-in: without them, or with a lowest that is not below the highest, it is an
// error.
//
// Rain days are those of at least 1 mm; else D1.0 = D0.3 − 0.45 (D0.3 − D2.5) from those of
// 0.3 and 2.5 mm (own fit); with neither it is an error. Vapour pressure e is as recorded; else
// e°(dew point); else (Morning e°(tmin) + Afternoon e°(tmax))/2 (FAO-56 eq. 17); else the one with which the hours of the month have the mean humidity; else
// e°(tmin − DewDepressionC); at most e°(tmin + 1). Sunshine n/N is as recorded; else hours over day length
// on the 15th; else from (0.25 + 0.50 n/N) = Rs/Ra with Rs of FAO-56 eq. 50; held in 0…1. Wind
// is as recorded, else 2 m/s.
func FillNormals(raw RawNormals) (Normals, error) {
	n := Normals{Station: raw.Station, Place: raw.Place}
	if raw.RainMM == nil || raw.TmaxC == nil || raw.TminC == nil {
		return Normals{}, tongue.Errorf("%s: rain, tmax and tmin are needed for all 12 months", raw.Station)
	}
	days, err := raw.rainDays(&n)
	if err != nil {
		return Normals{}, err
	}
	for m := range n.Months {
		n.Months[m] = MonthNormal{RainMM: raw.RainMM[m], RainDays: days[m], TmaxC: raw.TmaxC[m], TminC: raw.TminC[m]}
		if !(n.Months[m].TminC < n.Months[m].TmaxC) {
			return Normals{}, tongue.Errorf("%s: month %d: tmin %g is not below tmax %g", raw.Station, m+1, raw.TminC[m], raw.TmaxC[m])
		}
	}
	raw.fillVapour(&n)
	raw.fillSun(&n)
	raw.fillWind(&n)
	return n, nil
}

// rainDays returns the days with at least 1 mm.
func (raw *RawNormals) rainDays(n *Normals) ([12]float64, error) {
	switch {
	case raw.Days1MM != nil:
		return *raw.Days1MM, nil
	case raw.Days03MM != nil && raw.Days25MM != nil:
		var days [12]float64
		for m := range days {
			days[m] = raw.Days03MM[m] - 0.45*(raw.Days03MM[m]-raw.Days25MM[m])
		}
		n.Filled = append(n.Filled, tongue.Say("Days with at least 1 mm: from days with 0.3 and 2.5 mm, D1.0 = D0.3 - 0.45 (D0.3 - D2.5) (own fit, error up to half a day)."))
		return days, nil
	}
	return [12]float64{}, tongue.Errorf("%s: days with at least 1 mm of rain are needed", raw.Station)
}

func (raw *RawNormals) fillVapour(n *Normals) {
	var stated [12]float64
	for m := range n.Months {
		x := &n.Months[m]
		switch {
		case raw.VapourKPa != nil:
			stated[m] = raw.VapourKPa[m]
		case raw.DewPointC != nil:
			stated[m] = air.SaturationKPa(raw.DewPointC[m])
		case raw.Morning != nil && raw.Afternoon != nil:
			stated[m] = air.VapourFromHumidityKPa(x.TminC, raw.Morning[m], x.TmaxC, raw.Afternoon[m])
		case raw.Humidity != nil:
			stated[m] = n.humidHours(m).vapourKPa(raw.Humidity[m])
		default:
			stated[m] = air.SaturationKPa(x.TminC - DewDepressionC(x.RainDays/monthLength[m]))
		}
		x.VapourKPa = min(stated[m], air.SaturationKPa(x.TminC+1))
	}
	switch {
	case raw.VapourKPa != nil:
	case raw.DewPointC != nil:
		n.Filled = append(n.Filled, tongue.Say("Vapour pressure: from the dew point (FAO-56 eq. 14)."))
	case raw.Morning != nil && raw.Afternoon != nil:
		n.Filled = append(n.Filled, tongue.Say("Vapour pressure: from the relative humidity of morning and afternoon, at the lowest and the highest temperature of the day (FAO-56 eq. 17)."))
	case raw.Humidity != nil:
		n.Filled = append(n.Filled, tongue.Plainf("Vapour pressure: from the mean relative humidity of the 24 hours, so that the hours drawn have that mean; it stays through a day.%s", raw.unreached(n)))
		return
	default:
		n.Filled = append(n.Filled, tongue.Plainf("%s dew point taken as the lowest temperature less 0.9 °C in the rains to 6 °C in the dry season (FAO-56 eq. 48 form).", noHumidity))
		return
	}
	if unheld := n.unheld(stated); unheld != "" {
		n.Filled = append(n.Filled, unheld)
	}
}

// noHumidity begins the sentence of normals in whose place no humidity was recorded.
const noHumidity tongue.Text = "Vapour pressure: not recorded;"

// HumidityGuessed tells whether the humidity was not recorded and stands in for what the lowest
// temperatures make likely.
func (n *Normals) HumidityGuessed() bool {
	return slices.ContainsFunc(n.Filled, func(s string) bool { return strings.HasPrefix(s, noHumidity.String()) })
}

// DewDepressionC returns by how much the dew point lies below the lowest
// temperature, °C, in a month with the given share of rain days: 6 °C in the dry
// season to 0.9 °C in the rains. Source: form of FAO-56 eq. 48; own fit to ten
// years of one monsoon station.
func DewDepressionC(rainShare float64) float64 {
	return 6.0 - 5.1*rainy(rainShare)
}

func (raw *RawNormals) fillSun(n *Normals) {
	for m := range n.Months {
		x := &n.Months[m]
		switch {
		case raw.SunFraction != nil:
			x.SunFraction = raw.SunFraction[m]
		case raw.SunshineH != nil:
			x.SunFraction = raw.SunshineH[m] / monthLength[m] / air.DayLengthH(n.Place.LatitudeDeg, midDOY[m])
		default:
			ra := air.ExtraterrestrialMJPerM2(n.Place.LatitudeDeg, midDOY[m])
			rs := air.SolarFromTemperatureMJPerM2(x.TmaxC, x.TminC, ra, air.ClearSkyMJPerM2(n.Place.ElevationM, ra), n.Place.Coast)
			x.SunFraction = (rs/ra - 0.25) / 0.50
		}
		x.SunFraction = max(0, min(1, x.SunFraction))
	}
	if raw.SunFraction == nil && raw.SunshineH == nil {
		n.Filled = append(n.Filled, tongue.Say("Sunshine: not recorded; from the daily temperature range (FAO-56 eq. 50)."))
	}
}

func (raw *RawNormals) fillWind(n *Normals) {
	for m := range n.Months {
		n.Months[m].WindMS = 2
		if raw.WindMS != nil {
			n.Months[m].WindMS = raw.WindMS[m]
		}
	}
	if raw.WindMS == nil {
		n.Filled = append(n.Filled, tongue.Say("Wind: no record with unit and height; 2 m/s at 2 m (FAO-56)."))
	}
}

// seasonality returns mean rain of the four wettest months in a row over the mean
// of the others.
func (n *Normals) seasonality() float64 {
	sum, best := 0.0, 0.0
	for m := range 12 {
		four := 0.0
		for k := range 4 {
			four += n.Months[(m+k)%12].RainMM
		}
		best = math.Max(best, four)
		sum += n.Months[m].RainMM
	}
	switch {
	case best == 0: // a desert
		return 1
	case sum-best <= 0:
		return math.Inf(1)
	}
	return (best / 4) / ((sum - best) / 8)
}
