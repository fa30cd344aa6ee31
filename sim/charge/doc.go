// Package charge holds one load of a wood-fired cabinet dryer: how long it takes, how wet the
// stalks come out, and how much wood it burns. Pure functions; it knows no site and no season.
//
// Letters: M moisture, kg of water per kg of dry matter; T temperature, °C; e vapour pressure
// and e°(T) saturation, kPa; k(T) drying rate and Me(T, h) equilibrium moisture of package stalk,
// here with the cabinet's own k80, Ea and f; λ(T) latent heat of package air, MJ/kg. A charge is
// lots of different moisture Mi and dry matter mi, G in all, and B kg of rain water on the stalks.
// Fields of Cabinet stand by their name, with their default.
//
// # Chamber and fire (Cabinet.Light)
//
// The chamber warms in a straight line from the air outside, To and eo, to SetC 80 within HeatUpH
// 0.75 h, and stays there until the fire is out. Humidity in it at T is min(0.90, g eo/e°(T)), g
// VapourGain 2: it stands for a draught that nobody has measured.
//
// A kg of water that leaves takes its latent heat and warms the exhaust air, which carries off the
// more the warmer the chamber is (assumption; F ExhaustFactor 1.7, as stated at 80 °C in air of 28):
//
//	heat of a kg      q(T) = λ(T) + (F − 1) λ(80) (T − To)/(80 − 28), MJ
//	fire              P = EvaporatesKgPerH q(80 in air of 28) V(w)/V(0.20), MJ/h
//
// EvaporatesKgPerH 13, w WoodMoisture 0.20, V(w) the heating value below. Walls come on top of P.
// While the chamber warms, the fire pays for warming the cabinet and all that is loaded first:
//
//	warming           U = (250·0.8 + 1.4 G + 4.19 (Σ mi Mi + B))(SetC − To)/1000, MJ
//	left for water    (P min(HeatUpH, 0.75) − U)/HeatUpH, MJ/h, if that is positive
//
// so that a slow heating up is a weaker fire (assumption). If it is negative, nothing dries while
// the chamber warms, nor for the hours after in which P pays the rest.
//
// The limit is C = what is left/q(T) while warming, then P/q(SetC), kg of water an hour. It takes
// the rain water B off first; nothing else dries until that is gone.
//
// # What the charge does
//
// One rule, between lots and within a lot: a stalk of rate factor z (1 the mean, exp(−1.645 σ) the
// slow one that 5 % are slower than, σ RateSpread 0.15) loses
//
//	dM/dt = −min(z k (M − Me), r),  not below 0
//
// with r infinite if Σ mi k (Mi − Me) ≤ C, and else the common rate at which Σ mi min(k (Mi − Me),
// r) = C: the wetter lots lose r, the drier ones what they want. Mi follow z = 1. The charge ends
// when the slow stalk of the wettest lot has come to Target, 14 % wet basis; never, where Me(SetC)
// is not below that. Curve steps this.
//
// # In closed form (Course)
//
// The heating up is stepped, in ceil(HeatUpH/0.2) steps t at the temperature of their middle, each
// stalk losing (M − Me)(1 − exp(−z k t)) but no more than the common loss. In the step in which B goes
// a stalk loses, of what it would, the part of the step that is left, and the common loss is that of
// the limit in this part. A charge that ends within a step loses evenly in it. At SetC, with u = M − Me
// and lots of mass S held at r while others want D in all, from the time the last of these went free:
//
//	others           D exp(−k t)
//	common rate      r(t) = (C − D exp(−k t))/S
//	common loss      R(t) = (C t − (D/k)(1 − exp(−k t)))/S
//	the driest held  goes free at t = (S k u + D − C)/(k C)
//	any stalk held   goes its own way when z k (u − R(t)) = r(t), and then falls by exp(−z k t)
//
// When the wettest lot goes free, all stalks do. The tests step loads of one to seven lots by the
// quarter of a minute: hours are within 1 % or 0.04 h, moistures within 0.3 points.
//
// # Overdried (Course.OverdriedShare)
//
// Stalks below M = 0.0870 (8 % wet basis, assumption) break. The rate of a stalk is k exp(σ Z), Z
// standard normal; the share is that of the stalks of a lot faster than the one that comes out just
// there: Φ(−ln z/σ), found by the secant to a thousandth of what is left above Me, by which a stalk
// more or less may break; 0 or 1 beyond 4 σ. If σ is 0 or Me ≥ 0.0870, it is 1 where the lot comes out
// below and 0 where not.
//
// # Browned (Fire.BrownedShare)
//
//	share = 1 − exp(−∫ b 2^((T − 90)/5) dt) over the fire,  b 0.005 1/h of the scenario (0.002…0.015)
//
// Temperature drives browning (Casas et al. 2012); the numbers are assumptions.
//
// # Wood (Fire.Heat, Fire.WoodKg)
//
//	heating value     V(w) = 19.0 (1 − w) − 2.443 w, MJ/kg wet wood       (ISO 18125)
//	water, exhaust    q(SetC) × water evaporated, rain water included
//	stalks            (1.4 G + 4.19 × water loaded, rain water included)(SetC − To)/1000
//	walls             3.6·30/1000 (SetC − To) hours of fire                (30 W/K)
//	cabinet           (1 − warm) 250·0.8 (SetC − To)/1000                  (250 kg, 0.8 kJ/kg/K)
//	wood              sum of the four/(0.40 V(w)), kg
//
// 19.0 WoodHeatMJPerKg, 30 WallLossWPerK (15 m² of wall at 2 W/m²/K, assumption), 250 MassKg, 0.40
// FurnaceEfficiency. EvaporatesKgPerH, MassKg and WallLossWPerK are those of a cabinet of 1,000 fresh
// stalks; a season's goes by its size, the walls by its power of 2/3 (sim.Dryer.Cabinet).
// The letter warm is the share of the rise that the cabinet still holds from the charge before.
//
// # Cooling and capacity
//
// Without fire the chamber falls to Tc, the larger of 45 °C and To + 5, in CoolTauH ln((SetC −
// To)/(Tc − To)) hours, CoolTauH 0.5; 0 if SetC ≤ Tc.
// Stalks shrink: a cabinet holds its number of fresh stalks when the wettest lot is fresh and of
// pre-dried ones at M ≤ 0.7, in a straight line between by the moisture of the wettest lot.
package charge
