package decide

import (
	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// ErrNoContract is returned when no month of the season asks for stalks: then
// there is nothing to meet.
var ErrNoContract = tongue.Fault("the contract asks for no stalks in any month of the season")

// seasons holds what a plan did, season by season.
type seasons struct {
	asked     []int    // contract months: index into the months of the season
	met       [][]bool // by contract month and season
	available [][]float64
	shortfall [][]float64
	allMet    []bool
	share     []float64 // delivered over asked
	left      []float64 // at the hub on the last day
	delivered []float64
	spoiled   []float64 // at the hub
	aimed     [][]bool  // events of a goal that has one for the season; nil: each month is one
}

func play(t *trials.Table, plan []int) seasons {
	gate := t.Gate()
	var p seasons
	for k, asked := range gate.Asked {
		if asked > 0 {
			p.asked = append(p.asked, k)
		}
	}
	n := len(p.asked)
	p.met, p.available, p.shortfall = make([][]bool, n), make([][]float64, n), make([][]float64, n)
	months, scratch := make([]sim.HubMonth, t.Months()), &trials.Arriving{}
	for i := range t.Seasons {
		t.Hub(months, scratch, plan, i)
		p.add(months)
	}
	return p
}

// add books one season's months at the hub.
func (p *seasons) add(months []sim.HubMonth) {
	all, delivered, asked, spoiled := true, 0, 0, 0
	for k := range months {
		spoiled += months[k].Spoiled
	}
	for c, k := range p.asked {
		m := &months[k]
		p.met[c] = append(p.met[c], m.Met)
		p.available[c] = append(p.available[c], float64(m.Available()))
		p.shortfall[c] = append(p.shortfall[c], float64(m.Asked-m.Delivered))
		all = all && m.Met
		delivered += m.Delivered + m.MadeGood
		asked += m.Asked
	}
	p.allMet = append(p.allMet, all)
	p.share = append(p.share, float64(delivered)/float64(asked))
	p.delivered = append(p.delivered, float64(delivered))
	p.spoiled = append(p.spoiled, float64(spoiled))
	p.left = append(p.left, float64(months[len(months)-1].Closing))
}

// worst returns the contract month met in the fewest seasons, the earliest of
// equals.
func (p *seasons) worst() int {
	worst := 0
	for c := range p.met {
		if count(p.met[c]) < count(p.met[worst]) {
			worst = c
		}
	}
	return worst
}

func count(met []bool) int {
	n := 0
	for _, m := range met {
		if m {
			n++
		}
	}
	return n
}

// Judge turns the rows of a plan into its odds, bands and flows, with the worst month as goal. A
// plan that the table does not hold is an error.
func Judge(t *trials.Table, plan []int) (PlanResult, error) {
	return JudgeFor(goal.Goal{}, nil, t, plan)
}

// JudgeFor is Judge for a goal. The region of the table is looked at where the goal goes by
// income.
func JudgeFor(g goal.Goal, region *sim.Region, t *trials.Table, plan []int) (PlanResult, error) {
	if err := t.CheckPlan(plan); err != nil {
		return PlanResult{}, err
	}
	p := playFor(g, lived{region, t, plan})
	if len(p.asked) == 0 {
		return PlanResult{}, ErrNoContract
	}
	gate := t.Gate()
	r := PlanResult{Dryers: total(plan), PerSite: append([]int(nil), plan...)}
	for c, k := range p.asked {
		r.Months = append(r.Months, MonthResult{
			Month:     gate.Months[k],
			Name:      gate.Months[k].String(),
			Asked:     gate.Asked[k],
			Odds:      trials.NewOdds(count(p.met[c]), t.Seasons),
			Available: trials.NewBand(p.available[c]),
			Shortfall: trials.NewAmount(p.shortfall[c]),
			Stock:     trials.NewFan(p.available[c]),
		})
	}
	r.Strict = strictly(g, t, plan)
	r.Worst = p.worst()
	r.Odds = trials.NewOdds(count(p.least()), t.Seasons)
	r.AllMonths = trials.NewOdds(count(p.allMet), t.Seasons)
	r.Share = trials.NewMean(p.share)
	r.Flow = flow(t, plan, &p)
	r.RainAt = t.RainAt
	for k, span := range t.Spans() {
		mm := make([]float64, t.Seasons)
		for i := range mm {
			mm[i] = t.RainMM(i)[k]
		}
		r.Rain = append(r.Rain, RainMonth{span.Month.String(), trials.NewBand(mm), trials.NewAmount(mm)})
	}
	return r, nil
}
