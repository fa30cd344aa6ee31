package sim

import (
	"encoding/json"
	"math"
)

// Amount is money in whole minor units of the currency, a hundredth of it. In JSON it is
// written, and read, in units of the currency: 1234 is 12.34.
type Amount int64

// Units returns an amount of the currency from one in minor units.
func (a Amount) Units() float64 { return float64(a) / 100 }

// AmountOf returns the amount nearest to so much of the currency. What does not fit into an
// Amount is the largest one there is.
func AmountOf(units float64) Amount {
	const most = 1 << 62
	return Amount(math.Round(max(-most, min(most, 100*units))))
}

// MarshalJSON writes the amount in units of the currency.
func (a Amount) MarshalJSON() ([]byte, error) { return json.Marshal(a.Units()) }

// UnmarshalJSON reads an amount in units of the currency, to the nearest minor unit.
func (a *Amount) UnmarshalJSON(data []byte) error {
	var units float64
	if err := json.Unmarshal(data, &units); err != nil {
		return err
	}
	*a = AmountOf(units)
	return nil
}
