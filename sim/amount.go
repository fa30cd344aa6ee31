package sim

import "math"

// Amount is money in whole minor units of the currency, a hundredth of it.
type Amount int64

// Units returns an amount of the currency from one in minor units.
func (a Amount) Units() float64 { return float64(a) / 100 }

// AmountOf returns the amount nearest to so much of the currency. What does not fit into an
// Amount is the largest one there is.
func AmountOf(units float64) Amount {
	const most = 1 << 62
	return Amount(math.Round(max(-most, min(most, 100*units))))
}
