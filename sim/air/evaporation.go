package air

import "math"

const (
	// stefanBoltzmannHour is σ of FAO-56 eq. 39 for an hour, MJ/K⁴/m²/h.
	stefanBoltzmannHour = 2.043e-10
	// kelvin is the zero of FAO-56 eq. 39.
	kelvin = 273.16
	// reflected is the albedo of the reference crop, FAO-56 eq. 38.
	reflected = 0.23
)

// cloudiness returns (0.34 - 0.14 √ea)(1.35 Rs/Rso - 0.35) of FAO-56 eq. 39: how
// much of the heat a surface gives off to a black sky is really lost.
func cloudiness(vapourKPa, clearness float64) float64 {
	return (0.34 - 0.14*math.Sqrt(vapourKPa)) * (1.35*min(clearness, 1) - 0.35)
}

func fourth(x float64) float64 { return x * x * x * x }

// ET0Hour is the air of an hour for the hourly reference evapotranspiration.
type ET0Hour struct {
	TempC         float64 // °C
	VapourKPa     float64 // actual vapour pressure, kPa
	WindMS        float64 // at 2 m, m/s
	NetMJPerM2    float64 // net radiation, MJ/m²
	GroundMJPerM2 float64 // soil heat flux, MJ/m²
	Psychrometric float64 // kPa/°C
}

// Terms returns the two terms of the hourly reference evapotranspiration, mm:
// what radiation and what wind and dryness of the air evaporate. Their sum is
// the equation; they are kept apart because a roof changes each in its own way.
// Source: FAO-56 eq. 53.
func (h ET0Hour) Terms() (sunMM, airMM float64) {
	slope := SaturationSlopeKPaPerC(h.TempC)
	saturation := SaturationKPa(h.TempC)
	den := h.denominator(slope)
	sunMM = 0.408 * slope * (h.NetMJPerM2 - h.GroundMJPerM2) / den
	airMM = h.Psychrometric * 37 / (h.TempC + 273) * h.WindMS * max(0, saturation-h.VapourKPa) / den
	return sunMM, airMM
}

// denominator returns Δ + γ(1 + 0.34 u2), kPa/°C.
func (h ET0Hour) denominator(slope float64) float64 {
	return slope + h.Psychrometric*(1+0.34*h.WindMS)
}

// WindShare returns the part of the denominator of FAO-56 eq. 53 that is the wind's: where a
// cover leaves only the part f of the wind, the denominator is 1 − WindShare·(1 − f) of itself.
func (h ET0Hour) WindShare() float64 {
	return 0.34 * h.Psychrometric * h.WindMS / h.denominator(SaturationSlopeKPaPerC(h.TempC))
}

// NetHourMJPerM2 returns the net radiation of an hour, MJ/m². clearness is the
// day's ratio of solar over clear-sky radiation, used by night too.
// Source: FAO-56 eqs. 38 to 40 in hourly form.
func NetHourMJPerM2(solar, tempC, vapourKPa, clearness float64) float64 {
	return (1-reflected)*solar - stefanBoltzmannHour*fourth(tempC+kelvin)*cloudiness(vapourKPa, clearness)
}

// GroundHourMJPerM2 returns the soil heat flux of an hour, MJ/m², from its net
// radiation. Source: FAO-56 eqs. 45 and 46.
func GroundHourMJPerM2(net float64, day bool) float64 {
	if day {
		return 0.1 * net
	}
	return 0.5 * net
}
