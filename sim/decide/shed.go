package decide

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// HubAir says in which air stalks lie at the hub, and to which month of a plan an open shed
// would do most.
type HubAir struct {
	Humidity float64 `json:"humidity_fraction"` // 0: that of the outside air
	Sealed   bool    `json:"sealed_store"`
	Shed     *Shed   `json:"in_an_open_shed,omitempty"` // nil where it was not asked, or the hub is one
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
// for what spoils there, so their rows cannot be kept. So many tell odds within 7 points, and
// within 4 near the target.
const mostInTheShed = 200

// AirOfHub returns the air of the hub of a region.
func AirOfHub(r *sim.Region) HubAir {
	return HubAir{Humidity: r.Hub.Humidity, Sealed: r.Hub.SealedStore}
}

// HubOf lives through the first seasons of a plan once more with the hub an open shed: stalks
// lie in the outside air, and the sites cut for what spoils there. The same seasons as stated
// with an open hub give the same odds. A plan that the table does not hold is an error.
func HubOf(ctx context.Context, set trials.Setup, r *sim.Region, t *trials.Table, plan []int) (HubAir, error) {
	air := AirOfHub(r)
	if air.Humidity == 0 && !air.Sealed {
		return air, nil
	}
	if err := t.CheckPlan(plan); err != nil {
		return air, err
	}
	shed := planned(r, plan)
	shed.Hub.Humidity, shed.Hub.SealedStore = 0, false
	n := min(t.Seasons, mostInTheShed)
	tables, err := set.Tables(ctx, t.First, n, []trials.Variant{{Region: shed, Levels: trials.Only(plan)}}, nil)
	if err != nil {
		return air, err
	}
	asIs, open := play(t, plan), play(tables[0], plan)
	if len(asIs.asked) == 0 {
		return air, ErrNoContract
	}
	worst := open.worst()
	now := asIs.met[worst][:n]
	air.Shed = &Shed{
		Month: t.Gate().Months[asIs.asked[worst]].String(),
		AsIs:  trials.NewOdds(count(now), n), Odds: trials.NewOdds(count(open.met[worst]), n), Gain: PairedGain(open.met[worst], now),
	}
	return air, nil
}
