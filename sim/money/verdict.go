package money

import (
	"drystalk/sim/trials"
)

// Verdict says whether a purchase pays.
type Verdict string

// The verdicts, see the package's documentation.
const (
	PaysInNearlyAll Verdict = "pays_in_nearly_all_futures"
	PaysOnAverage   Verdict = "pays_on_average_with_risk"
	CannotBeTold    Verdict = "cannot_be_told"
	DoesNotPay      Verdict = "does_not_pay"
)

// Nearly all futures are so many of so many.
const (
	NearlyAll   = 19
	NearlyAllOf = 20
)

// nearlyAll tells whether something held in nearly all futures.
func nearlyAll(met, of int) bool { return NearlyAllOf*met >= NearlyAll*of }

// verdictOf judges by the mean net present value, the futures in which it is above nothing, and
// those in which an instalment is not covered; nil where nothing is borrowed.
func verdictOf(npv trials.Mean, positive trials.Odds, notCovered *trials.Odds) Verdict {
	switch {
	case npv.High < 0:
		return DoesNotPay
	case !(npv.Low > 0):
		return CannotBeTold
	case !nearlyAll(positive.Met, positive.Seasons):
		return PaysOnAverage
	case notCovered != nil && !nearlyAll(notCovered.Seasons-notCovered.Met, notCovered.Seasons):
		return PaysOnAverage
	}
	return PaysInNearlyAll
}

// AtWorth is what a purchase, or a change that costs nothing, is worth to members whose hours have
// a worth elsewhere.
type AtWorth struct {
	Worth    float64     `json:"worth_of_hour"` // units of the currency
	Gain     trials.Mean `json:"gain_a_year"`   // money after what is bought is paid for, and hours freed at their worth
	Positive trials.Odds `json:"gain_above_0"`  // futures, or seasons where nothing is bought
	Verdict  Verdict     `json:"verdict"`
}

// PartGain is how much more a part of the money is in a year with the purchase.
type PartGain struct {
	Of   string      `json:"of"` // key of a part, or FreedHours
	Year trials.Mean `json:"gain_a_year"`
}

// FreedHours is the key of what hours of members are worth that a purchase frees.
const FreedHours = "freed_hours_at_their_worth"
