package charge

import "math"

// Browning doubles with every so many degrees, and its rate is stated at brownsAtC, °C. Assumption;
// that temperature drives browning is published: Casas et al. 2012, Science Diliman 24(2).
const (
	doublesEveryC = 5
	brownsAtC     = 90
)

// BrownedShare returns the share of a charge that is browned when the fire has burned for hours:
// 1 − exp(−∫ b dt) with b = ratePerHAt90C · 2^((T − 90)/5), over the temperature of the chamber
// from lighting.
func (f *Fire) BrownedShare(hours, ratePerHAt90C float64) float64 {
	if !(hours > 0) || !(ratePerHAt90C > 0) {
		return 0
	}
	rate := func(tempC float64) float64 { return ratePerHAt90C * math.Exp2((tempC-brownsAtC)/doublesEveryC) }
	heatingH := min(hours, f.c.HeatUpH)
	dose := rate(f.c.SetC) * (hours - heatingH)
	if rise := f.c.SetC - f.ambient.TempC; rise > 0 && heatingH > 0 {
		reachedC := f.ambient.TempC + rise*heatingH/f.c.HeatUpH
		dose += (rate(reachedC) - rate(f.ambient.TempC)) * f.c.HeatUpH / rise * doublesEveryC / math.Ln2
	}
	return -math.Expm1(-dose)
}
