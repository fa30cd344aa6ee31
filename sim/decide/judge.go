package decide

import (
	"errors"

	"drystalk/sim"
	"drystalk/sim/trials"
)

// ErrNoContract is returned when no month of the season asks for stalks: then
// there is nothing to meet.
var ErrNoContract = errors.New("the contract asks for no stalks in any month of the season")

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
	months, scratch := make([]sim.HubMonth, t.Months()), make([]int, t.Months())
	for i := range t.Seasons {
		t.Hub(months, scratch, plan, i)
		p.add(months)
	}
	return p
}

// add books one season's months at the hub.
func (p *seasons) add(months []sim.HubMonth) {
	all, delivered, asked := true, 0, 0
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
	p.left = append(p.left, float64(months[len(months)-1].Closing))
}

// worst returns the contract month met in the fewest seasons, the earliest of
// equals.
func (p *seasons) worst() int {
	worst, fewest := 0, len(p.allMet)+1
	for c := range p.met {
		if n := count(p.met[c]); n < fewest {
			worst, fewest = c, n
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

// Judge turns the rows of a plan into its odds, bands and flows. The table must
// hold the plan.
func Judge(t *trials.Table, plan []int) (PlanResult, error) {
	p := play(t, plan)
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
			Shortfall: trials.NewMean(p.shortfall[c]),
		})
	}
	r.Worst = p.worst()
	r.AllMonths = trials.NewOdds(count(p.allMet), t.Seasons)
	r.Share = trials.NewMean(p.share)
	r.Flow = flow(t, plan, &p)
	for k, span := range t.Spans() {
		mm := make([]float64, t.Seasons)
		for i := range mm {
			mm[i] = t.RainMM[i][k]
		}
		r.Rain = append(r.Rain, RainMonth{span.Month.String(), trials.NewBand(mm), trials.NewMean(mm)})
	}
	return r, nil
}

// spending is hours of a table under a name.
type spending struct {
	on    string
	total trials.Total
}

// dryerStates are what a dryer does in the hours of its shift.
var dryerStates = []spending{
	{"firing", trials.FiringMin},
	{"loading and unloading", trials.HandlingMin},
	{"cooling", trials.CoolingMin},
	{"cold, loaded, waiting for the morning", trials.WaitingMin},
	{"no stalks to load", trials.NoStalksMin},
	{"no need: the sun may do it", trials.NotWantedMin},
	{"too late in the shift for a charge", trials.NoTimeMin},
	{"nobody to tend the fire", trials.NoPeopleMin},
	{"no wood", trials.NoWoodMin},
	{"broken or out", trials.DownMin},
	{"not yet put up", trials.NotReadyMin},
}

// personTasks are what people do.
var personTasks = []spending{
	{"cutting", trials.CutMin},
	{"tending fires", trials.TendMin},
	{"of that at night", trials.NightMin},
	{"loading and unloading dryers", trials.LoadMin},
	{"grading and bundling", trials.GradeMin},
	{"pulling and clearing sheets", trials.SheetMin},
	{"collections", trials.CollectMin},
	{"hauling", trials.HaulMin},
}

func flow(t *trials.Table, plan []int, p *seasons) Flow {
	values := make([]float64, t.Seasons)
	mean := func(total trials.Total, unit float64) trials.Mean {
		for i := range values {
			values[i] = float64(t.Sum(total, plan, i)) / unit
		}
		return trials.NewMean(values)
	}
	with := func(total trials.Total, add func(i int) float64) trials.Mean {
		for i := range values {
			values[i] = float64(t.Sum(total, plan, i)) + add(i)
		}
		return trials.NewMean(values)
	}
	spent := func(list []spending) (out []Spent) {
		for _, s := range list {
			out = append(out, Spent{s.on, mean(s.total, 60)})
		}
		return out
	}
	opening := float64(t.Gate().Opening)
	return Flow{
		Shift: spent(dryerStates), Tasks: spent(personTasks),
		NotCutClosed:   mean(trials.NotCutClosed, 1),
		Browned:        mean(trials.Browned, 1),
		Skipped:        mean(trials.Skipped, 1),
		OpeningStock:   with(trials.Opening, func(int) float64 { return opening }),
		Cut:            mean(trials.Cut, 1),
		Second:         mean(trials.Second, 1),
		Rejected:       mean(trials.Rejected, 1),
		ThrownOut:      mean(trials.ThrownOut, 1),
		Broken:         mean(trials.Broken, 1),
		RefusedAtGate:  mean(trials.RefusedAtGate, 1),
		Delivered:      trials.NewMean(p.delivered),
		LeftOver:       with(trials.Closing, func(i int) float64 { return p.left[i] }),
		NotCutRain:     mean(trials.NotCutRain, 1),
		NotCutYardFull: mean(trials.NotCutYardFull, 1),
		NotCutTarget:   mean(trials.NotCutTarget, 1),
		NotCutStand:    mean(trials.NotCutStand, 1),
		Redried:        mean(trials.Redried, 1),
		NotCutPeople:   mean(trials.NotCutPeople, 1),
		BrokenH:        mean(trials.BrokenMin, 60),
		CutH:           mean(trials.CutMin, 60),
		OtherH:         mean(trials.OtherMin, 60),
		RoadShutDays:   mean(trials.RoadShut, 1),
		Charges:        mean(trials.Charges, 1),
		FiringH:        mean(trials.FiringMin, 60),
		IdleH:          mean(trials.IdleMin, 60),
		WoodKg:         mean(trials.WoodHg, 10),
	}
}
