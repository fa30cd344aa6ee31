// Package stalk holds the equations of one drying stalk: sorption, drying rate, what an hour
// on a rack, in a heap or in a store does to it, and the mould index. Pure functions; it knows
// no site, season or file.
//
// Letters: M moisture, kg of water per kg of dry matter (DryBasis); w the same per kg of wet
// stalk (WetBasis), w = M/(1+M); T temperature, °C; h relative humidity, fraction; e°(T)
// saturation vapour pressure (package air); I mould index. Fields of Properties
// stand by their name, with their default. Steps are whole hours unless said otherwise.
//
// # Sorption and drying rate
//
//	equilibrium       Me(T, h) = f 0.01 (−ln(1 − h)/(A (T + C)))^(1/B),  h held in 0.01…0.98
//	water activity    a(M, T) = 1 − exp(−A (T + C) (100 M/f)^B)
//	drying rate       k(T) = k80 exp(−(Ea/R)(1/(T + 273.15) − 1/353.15)), 1/h
//
// A 2.3865·10⁻⁴, B 1.467, C 90.535: the modified Henderson form of ASABE D245, own fit to the
// equation of the Wood Handbook (FPL-GTR-190, 4-5) over 15 to 90 °C and 10 to 90 %. f EMCFactor
// 1.10, k80 RateAt80CPerH 1.0 1/h, Ea ActivationKJPerMol 28 kJ/mol, R 8.314·10⁻³ kJ/mol/K.
// Inside an hour the air of Me is held in −20…120 °C.
//
// # Covers
//
// A Cover is three factors: s on the radiation term, r on the wind and the share of the rain that
// comes through. All are assumptions.
//
//	open rack         s 1     r 1      rain 1
//	clear roof        s given r 0.7    rain 0       (1.1 by default of the scenario)
//	solid roof        s, r given       rain 0       (0.2 and 0.9 by default of the scenario)
//	sheet             s 0.2   r 0.2    rain 0.01    (which hours it lies is package sim's)
//	heap              s 0.03  r 0.03   rain 0.2
//
// # Air of an hour under a cover (NewHour)
//
// From the air's T and h, its radiation R of the hour, MJ/m², its two terms of reference
// evapotranspiration ETsun and ETair, mm, the wind's share v = 0.34 γ u/(Δ + γ(1 + 0.34 u)) of their
// denominator (all FAO-56 eq. 53) and rain:
//
//	potential         E = c max(0, (s ETsun + r ETair)/(1 − v (1 − r)), s ETsun/(1 − v)), kg/m²
//
// c SkinFactor 0.6. The second is eq. 53 with the wind r u in both of its places; the third without
// any wind: the wind of the denominator is the resistance of a lawn, stalks have their own, so wind
// never slows drying (assumption).
//
//	stalk, rack       Ts = T + 8 min(1, s R/2.6),  hs = h e°(T)/e°(Ts)
//	stalk, heap       Ts = T + 4,  hs = h
//	equilibrium       Me = Me(Ts, hs);  drying rate k = k(Ts)
//	mould             at Tm = T on a rack, T + 4 in a heap
//
// By night R is 0 and Ts = T. Stalks warmed by the sun dry at Ts, yet moulds live at Tm.
//
// # Hour of a rack (State.RackHour)
//
// L is the dry matter on a square metre that is covered: as spread fresh, but at least that of
// LayerKgPerM2 6 of fresh stalks, one layer, below which the rack is partly bare; divided by AreaAfterPredry 0.6 once
// the batch has been closed up. F is the film of rain water on the stalks, kg/m². In this order:
//
//  1. Rain: F rises by the rain that comes through, at most to FilmMM 0.3; the rest drips off.
//  2. The hour is filmed if now F > 0. Then, if M < 3.25 (the moisture of soaked dry stalks:
//     rehydration ratio 4.25 less 1), stalks take up min(q k (3.25 − M), F/L), q RewettingFactor
//     0.3, and F gives it.
//  3. The potential evaporates the film first: F falls by min(F, E), and E by the same.
//  4. Resistances: inner = k (M − Me) with the M of step 2; outer = E/L with what step 3 left.
//     ψ = inner/(inner + outer) if M > Me and outer > 0, else 1.
//  5. Mould lives an hour (below) at the surface humidity 1 if filmed, else h + ψ (a(M, Tm) − h).
//  6. Drying: if M > Me, M falls by ψ outer = inner outer/(inner + outer). If M ≤ Me and the hour
//     is not filmed, M rises by q k (Me − M). Else M stays.
//  7. A batch that has come to M ≤ PredriedMoisture 0.7 is closed up for good (Predried): it
//     now covers AreaAfterPredry of its area, and the film of the area given up drips off. F is
//     per square metre and stays.
//
// The Exchange of the hour is what the batch caught and evaporated per kg of dry matter, so that
// M + F/L changes by Rain − Evaporated.
//
// # Hour of a heap (State.HeapHour)
//
// The same steps with L 0.9 kg/m² always, the heap's cover, step 5, if not filmed, at a(M, Tm) whatever
// ψ is (inside a heap there is no wind), and no step 7.
//
// # Hours in still air (State.Still)
//
// A store or a cold cabinet: with exchange rate x, 1/h, over t hours
//
//	M rises by (1 − exp(−x t)) (Me(T, h) − M)
//
// and then mould lives t hours at a(M, T) with the new M.
//
// # Mould
//
// Hukka & Viitanen 1999, Wood Science and Technology 33, 475, for pine sapwood, with H the
// surface humidity in per cent:
//
//	critical          Hc = −0.00267 T³ + 0.160 T² − 3.13 T + 100 up to 20 °C, 80 above
//	weeks to I 1      tm = exp(−0.68 ln T − 13.9 ln H + 66.02)
//	weeks to I 3      tv = exp(−0.74 ln T − 12.72 ln H + 61.50)
//	highest           Imax = 1 + 7 x − 2 x²,  x = (Hc − H)/(Hc − 100)
//	speed             k1 = 1 while I < 1, then 2/(tv/tm − 1);  k2 = max(0, 1 − exp(2.3 (I − Imax)))
//	growth            dI/dt = g k1 k2/(168 tm), 1/h,  g MouldFactor 1.5
//
// A step of mould over t hours at surface humidity H: age rises by t. Where 0 < T < 50 and
// H ≥ Hc, the hours since growth stopped become 0 and, if the age is now above LivingH 24 (a
// living stalk does not mould), I rises by t times the growth. Else mould declines: with D(s) =
// 0.032/24 min(s, 6) + 0.016/24 max(0, s − 24) after s hours without growth (Decline), I falls by
// D(s + t) − D(s), not below 0, and s rises by t. The decline is not multiplied by g. In water,
// H is 100 and Imax 6. The peak of I is kept: dead mould is still a stain.
//
// # Grades
//
// Stalks of a batch differ: the index of one is I exp(σ Z), Z standard normal, σ MouldSpread 0.4.
// With the peak of I and the normal distribution Φ (Grade; a peak of 0 is all full grade):
//
//	full              Φ(−ln I/σ)           stalks below 1
//	reject            1 − Φ(ln(3/I)/σ)     stalks above 3
//	second            the rest, not below 0
//
// SplitWhole turns shares into whole stalks by largest remainder.
//
// # Tables
//
// A season asks for these powers and exponentials a hundred million times. They are read from tables
// with straight lines between the steps, within 2·10⁻⁵ of the function (the normal within 10⁻⁶, of
// arguments held in −8…8); exp(−9.5) and less counts as nothing, and stalks of M > 1 as water activity
// 1. Below 8 °C mould is worked out without tables.
package stalk
