package air

// Hour is the air of one hour at a place, shared by every batch that lies
// there. The instantaneous values stand for the middle of the hour.
type Hour struct {
	TempC            float64 // air temperature, °C
	Humidity         float64 // relative humidity, fraction 0 to 1
	VapourKPa        float64 // vapour pressure, kPa, never above saturation
	RadiationMJPerM2 float64 // solar radiation of the hour, MJ/m²
	RainMM           float64 // rain of the hour, mm
	ET0SunMM         float64 // radiation term of hourly FAO-56 eq. 53, mm; may be negative at night
	ET0AirMM         float64 // aerodynamic term of hourly FAO-56 eq. 53, mm
	WindShare        float64 // part of the denominator of eq. 53 that is the wind's, fraction
}
