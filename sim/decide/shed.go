package decide

import (
	"context"
	"slices"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// HubAir says in which air stalks lie at the hub, to which month of a plan an open shed would do
// most, and whether more lies there at the start than is wanted.
type HubAir struct {
	Humidity float64 `json:"humidity_fraction"` // 0: that of the outside air
	Sealed   bool    `json:"sealed_store"`
	Shed     *Shed   `json:"in_an_open_shed,omitempty"` // nil where it was not asked, or the hub is one

	// Beyond is nil where the opening stock is no larger than the stock wanted ahead.
	Beyond *BeyondWanted `json:"opening_stock_beyond_what_is_wanted,omitempty"`
}

// BeyondWanted says that more good stalks lie at the hub at the start than are wanted there after any
// month: people rest until those beyond are used up, so that they help later months little.
type BeyondWanted struct {
	Opening int `json:"opening_stalks"`
	Wanted  int `json:"most_wanted_ahead_stalks"` // after any month but the last that asks
}

// beyondWanted compares the opening stock of a region with the stock that it wants ahead.
func beyondWanted(r *sim.Region) *BeyondWanted {
	g := r.Gate()
	most := 0
	for k := range max(0, g.LastAsked()) {
		most = max(most, r.Contract.TargetStock[g.Months[k]])
	}
	if r.Hub.OpeningStock <= most {
		return nil
	}
	return &BeyondWanted{r.Hub.OpeningStock, most}
}

// Shed is the month that would be worst if the hub were an open shed, in the same seasons. It
// need not be the worst of the plan as it is: where every month is met that is any.
type Shed struct {
	Month string      `json:"month"` // the worst in the shed, the earliest of equals
	AsIs  trials.Odds `json:"as_it_is"`
	Odds  trials.Odds `json:"in_the_shed"`
	Gain  trials.Mean `json:"gain_share"` // of the odds, fraction, paired: below 0 where the shed spoils them
}

// mostInTheShed is the most seasons that are lived through again with an open shed: the sites cut
// for what spoils there, so their rows cannot be kept. So many tell odds within 10 points, and
// within 7 near the target: what they are asked is whether the shed does as well.
const mostInTheShed = 100

// AirOfHub returns the air of the hub of a region, and whether more lies there than is wanted.
func AirOfHub(r *sim.Region) HubAir {
	return HubAir{Humidity: r.Hub.Humidity, Sealed: r.Hub.SealedStore, Beyond: beyondWanted(r)}
}

// HubOf lives through the first seasons of a plan once more with the hub an open shed: stalks
// lie in the outside air, and the sites cut for what spoils there. The same seasons as stated
// with an open hub give the same odds. A plan that the table does not hold is an error.
func HubOf(ctx context.Context, set trials.Setup, r *sim.Region, t *trials.Table, plan []int) (HubAir, error) {
	shed := shedOf(r, plan)
	if shed == nil {
		return AirOfHub(r), nil
	}
	if err := t.CheckPlan(plan); err != nil {
		return AirOfHub(r), err
	}
	tables, err := set.Tables(ctx, t.First, min(t.Seasons, mostInTheShed), []trials.Variant{*shed}, nil)
	if err != nil {
		return AirOfHub(r), err
	}
	return hubFrom(r, plan, t, tables[0])
}

// WithHub lives through n seasons of the plan of a setup's region, and beside the first of them does
// what HubOf does: so their seasons are drawn once.
func WithHub(ctx context.Context, set trials.Setup, n int, tell func(done int)) (*trials.Table, HubAir, error) {
	r, plan := set.Region, PlanOf(set.Region)
	tables, shed, err := besideShed(ctx, set, []trials.Variant{{Region: r, Levels: trials.Only(plan)}}, shedOf(r, plan), n, tell)
	if err != nil {
		return nil, HubAir{}, err
	}
	air, err := hubFrom(r, plan, tables[0], shed)
	return tables[0], air, err
}

// besideShed lives through n seasons of some variants and beside the first of them one in an open shed,
// whose table is nil where there is none.
func besideShed(ctx context.Context, set trials.Setup, variants []trials.Variant, shed *trials.Variant, n int, tell func(done int)) ([]*trials.Table, *trials.Table, error) {
	if shed == nil {
		tables, err := set.Tables(ctx, 0, n, variants, tell)
		return tables, nil, err
	}
	first := min(n, mostInTheShed)
	both, err := set.Tables(ctx, 0, first, append(slices.Clone(variants), *shed), tell)
	if err != nil {
		return nil, nil, err
	}
	tables := both[:len(variants)]
	if first == n {
		return tables, both[len(variants)], nil
	}
	rest, err := set.Tables(ctx, first, n-first, variants, func(done int) {
		if tell != nil {
			tell(first + done)
		}
	})
	if err != nil {
		return nil, nil, err
	}
	for v := range tables {
		tables[v] = trials.Join(tables[v], rest[v])
	}
	return tables, both[len(variants)], nil
}

// shedOf returns a plan with the hub an open shed; nil where it is one.
func shedOf(r *sim.Region, plan []int) *trials.Variant {
	if r.Hub.Humidity == 0 && !r.Hub.SealedStore {
		return nil
	}
	shed := planned(r, plan)
	shed.Hub.Humidity, shed.Hub.SealedStore = 0, false
	return &trials.Variant{Region: shed, Levels: trials.Only(plan)}
}

// hubFrom compares a plan with what it does in an open shed in the first seasons; nil where the hub is
// one.
func hubFrom(r *sim.Region, plan []int, t, shed *trials.Table) (HubAir, error) {
	air := AirOfHub(r)
	if shed == nil {
		return air, nil
	}
	asIs, open := play(t, plan), play(shed, plan)
	if len(asIs.asked) == 0 {
		return air, ErrNoContract
	}
	n := shed.Seasons
	worst := open.worst()
	now := asIs.met[worst][:n]
	air.Shed = &Shed{
		Month: t.Gate().Months[asIs.asked[worst]].String(),
		AsIs:  trials.NewOdds(count(now), n), Odds: trials.NewOdds(count(open.met[worst]), n), Gain: PairedGain(open.met[worst], now),
	}
	return air, nil
}
