// Package goal says what a season of a plan must do to count: the target of a contract. In how
// many seasons it is wanted is asked beside it.
//
// A goal turns a season into events, each reached or not. That of the worst month has one event
// for each contract month, and the odds of a plan are those of the event reached least often;
// every other goal has a single event. What searches, judges, proves and compares plans knows
// goals by their events alone.
package goal

import (
	"math"
	"slices"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// Kind is what must be reached.
type Kind int

// The kinds. The zero value is the worst month.
const (
	WorstMonth     Kind = iota // every contract month for itself
	AllMonths                  // all contract months of one season
	ShareDelivered             // of the stalks asked in a season, at least a stated part
	PenaltyAtMost              // paid in a season, at most a stated amount
	IncomeAtLeast              // of the region in a season, at least a stated amount: with the pay of members, without that of hired hands
	kinds
)

var keys = [kinds]string{
	WorstMonth:     "worst_month",
	AllMonths:      "all_months",
	ShareDelivered: "share_delivered",
	PenaltyAtMost:  "penalty_at_most",
	IncomeAtLeast:  "income_at_least",
}

// Keys returns the keys of all kinds, in their order.
func Keys() []string { return slices.Clone(keys[:]) }

// String returns the key of the kind.
func (k Kind) String() string { return keys[k] }

// MarshalText writes the key.
func (k Kind) MarshalText() ([]byte, error) { return []byte(k.String()), nil }

// UnmarshalText reads a key.
func (k *Kind) UnmarshalText(text []byte) error {
	at := slices.Index(keys[:], string(text))
	if at < 0 {
		return tongue.Errorf("no target %q", text)
	}
	*k = Kind(at)
	return nil
}

// NeedsPrices tells whether the kind goes by money.
func (k Kind) NeedsPrices() bool { return k == PenaltyAtMost || k == IncomeAtLeast }

// Goal is what a season must do to count. The zero value is the worst month, whatever the prices.
type Goal struct {
	Kind        Kind          `json:"of"`
	Share       float64       `json:"delivered_share,omitempty"` // of ShareDelivered: the least
	MostPenalty money.Amount  `json:"most_penalty,omitempty"`    // of PenaltyAtMost
	LeastIncome money.Amount  `json:"least_income,omitempty"`    // of IncomeAtLeast
	Prices      *money.Prices `json:"-"`                         // where the kind goes by money
	Currency    string        `json:"-"`                         // of its amounts, for readers
	Tolerance   float64       `json:"tolerance_share,omitempty"` // of the contract, for readers: it decides there which months are met
}

// ByMonth tells whether the goal has an event for each contract month instead of one for the
// season.
func (g *Goal) ByMonth() bool { return g.Kind == WorstMonth }

// a hair, in units of the currency, by which sums of money in floating point may be off.
const hair = 1e-6

// Reached tells whether a season reaches a goal that has one event: its months at the hub, and
// what the region earned in it, in units of the currency, which only IncomeAtLeast looks at.
func (g *Goal) Reached(months []sim.HubMonth, income float64) bool {
	switch g.Kind {
	case ShareDelivered:
		return g.delivered(months)
	case PenaltyAtMost:
		sum := money.Amount(0)
		for k := range months {
			sum += g.Prices.PenaltyOf(&months[k])
		}
		return sum <= g.MostPenalty
	case IncomeAtLeast:
		return income >= g.LeastIncome.Units()-hair
	default:
		return allMet(months)
	}
}

// delivered tells whether the stated part of the stalks asked is delivered, those made good in
// the month after included.
func (g *Goal) delivered(months []sim.HubMonth) bool {
	asked, delivered := 0, 0
	for k := range months {
		asked += months[k].Asked
		delivered += months[k].Delivered + months[k].MadeGood
	}
	return delivered >= int(math.Ceil(float64(asked)*g.Share-1e-6)) // as sim.Contract.Least
}

// allMet tells whether every month that asks for stalks is met.
func allMet(months []sim.HubMonth) bool {
	for k := range months {
		if months[k].Asked > 0 && !months[k].Met {
			return false
		}
	}
	return true
}
