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
	heatingH := min(hours, f.c.HeatUpH)
	dose := ratePerHAt90C * f.browns.set * (hours - heatingH)
	if rise := f.c.SetC - f.ambient.TempC; rise > 0 && heatingH > 0 {
		reached := f.browns.heatedUp
		if hours < f.c.HeatUpH {
			reached = f.brownsAfter(heatingH)
		}
		dose += (ratePerHAt90C*reached - ratePerHAt90C*f.browns.outside) * f.c.HeatUpH / rise * doublesEveryC / math.Ln2
	}
	return -math.Expm1(-dose)
}

// browns is how fast stalks brown at some temperatures of the chamber, over the rate at brownsAtC.
type browns struct{ outside, heatedUp, set float64 }

// brownsWhenHot returns what every charge needs that heats up.
func (f *Fire) brownsWhenHot() browns {
	return browns{brownsAt(f.ambient.TempC), f.brownsAfter(f.c.HeatUpH), brownsAt(f.c.SetC)}
}

// brownsAfter is brownsAt the temperature after some hours of the heating up.
func (f *Fire) brownsAfter(heatingH float64) float64 {
	return brownsAt(f.ambient.TempC + (f.c.SetC-f.ambient.TempC)*heatingH/f.c.HeatUpH)
}

// brownsAt returns how fast stalks brown at tempC, °C, over the rate at brownsAtC.
func brownsAt(tempC float64) float64 { return math.Exp2((tempC - brownsAtC) / doublesEveryC) }
