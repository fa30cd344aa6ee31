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
	SaturationKPa float64 // SaturationKPa of that temperature, kPa
	VapourKPa     float64 // actual vapour pressure, kPa
	WindMS        float64 // at 2 m, m/s
	NetMJPerM2    float64 // net radiation, MJ/m²
	GroundMJPerM2 float64 // soil heat flux, MJ/m²
	Psychrometric float64 // kPa/°C
}

// Terms returns the two terms of the hourly reference evapotranspiration, mm:
// what radiation and what wind and dryness of the air evaporate. Their sum is
// the equation; they are kept apart because a roof changes each in its own way.
// So it does the wind's part of the denominator, windShare: where a cover leaves only the part f of the
// wind, the denominator is 1 − windShare·(1 − f) of itself. Source: FAO-56 eq. 53.
func (h *ET0Hour) Terms() (sunMM, airMM, windShare float64) {
	slope := slopeKPaPerC(h.TempC, h.SaturationKPa)
	den := slope + h.Psychrometric*(1+0.34*h.WindMS)
	sunMM = 0.408 * slope * (h.NetMJPerM2 - h.GroundMJPerM2) / den
	airMM = h.Psychrometric * 37 / (h.TempC + 273) * h.WindMS * max(0, h.SaturationKPa-h.VapourKPa) / den
	return sunMM, airMM, 0.34 * h.Psychrometric * h.WindMS / den
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
