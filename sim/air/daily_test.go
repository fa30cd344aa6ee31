package air

// The daily form of reference evapotranspiration. The season goes by hours; the printed examples
// are of days, and hold what both forms share.

// stefanBoltzmannDay is σ of FAO-56 eq. 39, MJ/K⁴/m²/day.
const stefanBoltzmannDay = 4.903e-9

// netLongwaveMJPerM2 returns the net outgoing longwave radiation of a day,
// MJ/m². clearness is solar over clear-sky radiation. Source: FAO-56 eq. 39.
func netLongwaveMJPerM2(tmaxC, tminC, vapourKPa, clearness float64) float64 {
	black := stefanBoltzmannDay * (fourth(tmaxC+kelvin) + fourth(tminC+kelvin)) / 2
	return black * cloudiness(vapourKPa, clearness)
}

// et0Day is the weather of a day for the daily reference evapotranspiration.
type et0Day struct {
	TmaxC, TminC  float64 // °C
	VapourKPa     float64 // actual vapour pressure, kPa
	WindMS        float64 // at 2 m, m/s
	NetMJPerM2    float64 // net radiation, MJ/m²
	GroundMJPerM2 float64 // soil heat flux, MJ/m²
	ElevationM    float64 // m
}

// referenceMM returns the daily reference evapotranspiration, mm.
// Source: FAO-56 eq. 6 (Penman-Monteith).
func (d et0Day) referenceMM() float64 {
	mean := (d.TmaxC + d.TminC) / 2
	slope := SaturationSlopeKPaPerC(mean)
	g := PsychrometricKPaPerC(PressureKPa(d.ElevationM))
	deficit := DailySaturationKPa(d.TmaxC, d.TminC) - d.VapourKPa
	return (0.408*slope*(d.NetMJPerM2-d.GroundMJPerM2) + g*900/(mean+273)*d.WindMS*deficit) /
		(slope + g*(1+0.34*d.WindMS))
}

// netMJPerM2 returns the net radiation of a day, MJ/m², of the reference surface
// from solar radiation and net longwave. Source: FAO-56 eqs. 38 and 40.
func netMJPerM2(solar, netLongwave float64) float64 { return (1-reflected)*solar - netLongwave }
