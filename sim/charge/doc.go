// Package charge holds one load of a wood-fired cabinet dryer: how long it takes, how wet the
// stalks come out, and how much wood it burns. Pure functions; it knows no site and no season.
//
// Letters: M moisture, kg of water per kg of dry matter; T temperature, °C; e vapour pressure
// and e°(T) saturation, kPa; k(T) drying rate and Me(T, h) equilibrium moisture of package stalk,
// here with the cabinet's own k80, Ea and f; G dry matter of the whole charge, kg. A charge is
// lots of different moisture; m is the moisture of the wettest lot, m̄ the mean by dry matter.
// Fields of Cabinet stand by their name, with their default.
//
// # Fire (Cabinet.Light)
//
// The chamber warms in a straight line from the air outside, To and eo, to SetC 80 within HeatUpH
// 0.75 h, and stays there until the fire is out. Humidity in it at T:
//
//	hidden draught    min(0.90, g eo/e°(T)),  g VapourGain 2                 (AirKgPerH 0)
//	stated draught    min(0.90, 0.8 e°(50)/e°(T))                           (AirKgPerH above 0)
//
// The fire evaporates at most, kg of water an hour (with V(w) the heating value below):
//
//	C = EvaporatesKgPerH V(w)/V(0.20),  EvaporatesKgPerH 13, w WoodMoisture 0.20
//
// and no more than the stated draught Q AirKgPerH carries off:
// C ≤ Q (W(0.8 e°(50)) − W(eo)), W the humidity ratio at 101.325 kPa.
//
// At SetC the mean stalk dries at k, the slow one at ks = k exp(−1.645 σ), σ RateSpread 0.15: 5 %
// of stalks are slower. Me is the equilibrium there, and M* the Target, 14 % wet basis.
//
// # What the charge does, as stepped (Curve)
//
// In a step of t hours, all taken at the temperature of its middle: each lot demands k(T)(M −
// Me(T)) per kg of dry matter, not below 0. The share y = min(1, C/demand of all) is granted to
// every lot alike. The slow stalk of the wettest lot loses ks(T)(M − Me(T)), but no more than its
// lot does while y < 1. The charge ends when the slow stalk has come to M*.
//
// # Hours of a charge (Fire.DryingH)
//
// The closed form, within 0.7 % or 0.05 h of stepping by the minute for one lot, 1 % or 0.06 h for
// two. While the limit binds, all lots near Me by one common factor, so the wettest lot loses
//
//	b = (C/G)(m − Me)/(m̄ − Me), 1/h;  infinite if m̄ ≤ Me
//
// Below F = Me + b/ks the slow stalk's own rate is lower than that. Hours at SetC:
//
//	m ≤ M*                            0
//	Me ≥ M*                           infinite
//	M* ≥ F (ends while the limit binds)   (m − M*)/b
//	else                              max(0, m − F)/b + ln((min(m, F) − Me)/(M* − Me))/ks
//
// The heating up prolongs this by HeatUpH S(m, ks, b). S is the share of it that is lost, by
// Simpson's rule on five temperatures Tj = To + j/4 (SetC − To), j 0…4, weights 1 4 2 4 1 over 12:
//
//	S(M, κ, b) = Σ weightj max(0, 1 − yj/x)/12
//	yj = (k(Tj)/k) max(0, M − Me(Tj))/(M − Me),   x = min(1, b/(κ (M − Me)))
//
// and 0 if M ≤ Me. The fire burns DryingH hours from lighting.
//
// # Moisture after the fire (Fire.After)
//
// A lot of moisture M comes out at Me + (M − Me) φ, by one factor φ for all lots. With b' = C/G,
// t = DryingH − HeatUpH S(m̄, k, b') and F' = Me + b'/k:
//
//	m̄ ≤ Me                   the lot stays as it is
//	t ≤ 0                     φ = 1
//	t ≤ tb = max(0, m̄ − F')/b'   φ = (m̄ − b' t − Me)/(m̄ − Me)
//	else                      φ = (min(m̄, F') − Me)/(m̄ − Me) exp(−k (t − tb))
//
// # Overdried (Fire.OverdriedShare)
//
// Stalks below Mo = 0.0870 (8 % wet basis, assumption) break. The rate of a stalk is k exp(σ Z), Z
// standard normal. From the moisture M' = min(M, Me + b/k), b of the lot, at which rates begin to
// differ, the mean stalk has moved l = ln((M' − Me)/(After − Me)), and a stalk that just breaks
// lo = ln((M' − Me)/(Mo − Me)). The share is that of stalks faster than lo/l, with Φ the normal:
//
//	share = Φ(−ln(lo/l)/σ);  1 if M' ≤ Mo, 0 if l ≤ 0
//
// If σ is 0 or Me ≥ Mo, it is 1 where the lot comes out below Mo and 0 where not.
//
// # Wood (Fire.Heat, Fire.WoodKg)
//
//	heating value     V(w) = 19.0 (1 − w) − 2.443 w, MJ/kg wet wood       (ISO 18125)
//	exhaust           1.7 × water evaporated × latent heat at SetC
//	stalks            (1.4 G + 4.19 × water loaded)(SetC − To)/1000
//	walls             3.6·30/1000 (SetC − To) DryingH                      (30 W/K)
//	cabinet           (1 − warm) 250·0.8 (SetC − To)/1000                  (250 kg, 0.8 kJ/kg/K)
//	wood              sum of the four/(0.40 V(w)), kg
//
// 19.0 WoodHeatMJPerKg, 1.7 ExhaustFactor, 30 WallLossWPerK, 250 MassKg, 0.40 FurnaceEfficiency;
// warm is the share of the rise that the cabinet still holds from the charge before.
//
// # Cooling and capacity
//
// Without fire the chamber falls to Tc in CoolTauH ln((SetC − To)/(Tc − To)) hours, CoolTauH 0.5;
// 0 if SetC ≤ Tc, and never (infinite or not a number) if the air outside is not below Tc.
// Stalks shrink: a cabinet holds its number of fresh stalks when the wettest lot is fresh and of
// pre-dried ones at M ≤ 0.7, in a straight line between by the moisture of the wettest lot.
package charge
