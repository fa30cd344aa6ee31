// Package air holds moist air, the sun and reference evapotranspiration: one function for
// each published equation. It knows nothing of stalks or seasons.
//
// Letters: T temperature, °C; e vapour pressure and P air pressure, kPa; h relative humidity,
// fraction; W humidity ratio, kg of vapour per kg of dry air; z elevation, m; φ latitude and δ
// declination, rad; J day of the year, 1 to 365; n/N bright sunshine over day length; u wind at
// 2 m, m/s. Radiation is in MJ/m² of the day or the hour. FAO-56 is Allen et al. 1998, FAO
// Irrigation and Drainage Paper 56; its equations carry their number.
//
// # Moist air
//
//	saturation        e°(T) = 0.6108 exp(17.27 T/(T + 237.3))               (11)  SaturationKPa
//	dew point         T = 237.3 l/(17.27 − l),  l = ln(e/0.6108)                  SaturationTempC
//	its slope         Δ(T) = 4098 e°(T)/(T + 237.3)²                        (13)  SaturationSlopeKPaPerC
//	of a day          (e°(Tmax) + e°(Tmin))/2                               (12)  DailySaturationKPa
//	pressure          P = 101.3 ((293 − 0.0065 z)/293)^5.26                 (7)   PressureKPa
//	psychrometric     γ = 0.665·10⁻³ P, kPa/°C                              (8)   PsychrometricKPaPerC
//	humidity ratio    W = 0.621945 e/(P − e)            (ASHRAE Fundamentals)     HumidityRatio
//	of a wet bulb     e = e°(Twet) − 0.662·10⁻³ P (T − Twet)               (15)  VapourFromWetBulbKPa
//	of humidities     e = (e°(Tmin) hmax + e°(Tmax) hmin)/2                 (17)  VapourFromHumidityKPa
//	latent heat       2.501 − 0.002361 T, MJ/kg                   (annex 3, 3-1)  LatentHeatMJPerKg
//
// # Sun
//
//	distance          d = 1 + 0.033 cos(2πJ/365)                            (23)
//	declination       δ = 0.409 sin(2πJ/365 − 1.39)                         (24)  DeclinationRad
//	sunset            ω = arccos(−tan φ tan δ), the argument held in −1…1   (25)  SunsetAngleRad
//	day length        N = 24 ω/π, h                                         (34)  DayLengthH
//	top of the air    Ra = (24·60/π) 0.0820 d (ω sin φ sin δ + cos φ cos δ sin ω)   (21)
//	hour from t on    Ra,h = (12·60/π) 0.0820 d ((ω2 − ω1) sin φ sin δ + cos φ cos δ (sin ω2 − sin ω1)),
//	                  ω1 = π(t − 12)/12, ω2 = π(t − 11)/12, both held in −ω…ω (28)
//	at the ground     Rs = (0.25 + 0.50 n/N) Ra                             (35)  SolarMJPerM2
//	no sunshine known Rs = min(Rso, k √(Tmax − Tmin) Ra), k 0.16, on a coast 0.19   (50)
//	clear sky         Rso = (0.75 + 2·10⁻⁵ z) Ra                            (37)  ClearSkyMJPerM2
//
// Hours are of solar time: noon is at 12. The clipped hours add up to the day.
//
// Wind at a height of x m is brought to 2 m by u = u(x) 4.87/ln(67.8 x − 5.42) (47), WindAt2M. This
// and the two vapour pressures above are for records that hold wind, wet bulb or humidity; no
// season needs them.
//
// # Reference evapotranspiration of an hour
//
// The evaporation of a wet short grass, mm, which is kg/m². With the vapour pressure e, at most
// e°(T), and the day's clearness c = Rs/Rso, at most 1, used by night too:
//
//	net radiation     Rn = 0.77 Rs,h − 2.043·10⁻¹⁰ (T + 273.16)⁴ (0.34 − 0.14 √e)(1.35 c − 0.35)   (38–40)
//	ground            G = 0.1 Rn while Ra,h > 0, else 0.5 Rn                (45, 46)
//	denominator       D = Δ + γ (1 + 0.34 u)
//	radiation term    0.408 Δ (Rn − G)/D                                    (53)
//	air term          γ 37/(T + 273) u max(0, e°(T) − e)/D                  (53)
//
// ET0Hour.Terms returns the two apart, because a roof changes each in its own way.
package air
