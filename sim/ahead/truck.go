package ahead

import (
	"drystalk/sim"
	"drystalk/sim/trials"
)

// loaded is a charge of today.
type loaded = sim.Loaded

// Truck is what a truckload of dry good stalks, bought once, does for the rest of the season.
type Truck struct {
	Stalks int          `json:"stalks"`
	On     string       `json:"on"`
	Price  float64      `json:"price_per_stalk"`
	Months []Month      `json:"months"`
	All    trials.Odds  `json:"all_months"`
	Gain   trials.Mean  `json:"gain_share"`                 // of the odds that all months ahead are met
	Sold   trials.Mean  `json:"more_delivered_stalks"`      // of the contract
	Money  *trials.Mean `json:"money_more,omitempty"`       // after its price; nil without prices
	Worth  *trials.Mean `json:"worth_of_a_stalk,omitempty"` // the price at which it neither earns nor costs
	Pays   *trials.Odds `json:"odds_it_pays,omitempty"`
}

// truck judges the truckload beside as now.
func (w *run) truck(r *sim.Region, t *trials.Table) (*Truck, error) {
	var way Way
	j, err := w.say(&way, r, t)
	if err != nil {
		return nil, err
	}
	q := w.Truck
	out := &Truck{Stalks: q.Stalks, On: dateOf(r, q.Day), Price: q.Price, Months: way.Months, All: way.All, Gain: way.Gain}
	out.Sold = trials.NewWeightedMean(less(w.now.missing, j.missing), w.weights)
	if j.net == nil {
		return out, nil
	}
	more := less(j.net, w.now.net)
	worth, pays := make([]float64, len(more)), make([]bool, len(more))
	for i := range more {
		worth[i] = more[i] / float64(q.Stalks)
		more[i] -= q.Price * float64(q.Stalks)
		pays[i] = more[i] > 0
	}
	money, of := trials.NewWeightedMean(more, w.weights), trials.NewWeightedMean(worth, w.weights)
	odds := trials.NewWeightedOdds(pays, w.weights)
	out.Money, out.Worth, out.Pays = &money, &of, &odds
	return out, nil
}
