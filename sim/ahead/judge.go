package ahead

import (
	"slices"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// judged is what became of a plan in each season: by month that asks for stalks, and of all of them.
type judged struct {
	plan      []int
	asked     []int       // months of the season that ask for stalks
	met       [][]bool    // by those
	available [][]float64 // by those
	short     [][]float64 // by those: asked less delivered
	all       []bool
	missing   []float64   // stalks of all months
	closing   [][]float64 // by every month of the season: good stalks at the hub after delivery
	net       []float64   // money of the rest of the season; nil without prices
}

// judge lets the hub serve every season of a plan.
func (w *run) judge(r *sim.Region, t *trials.Table) (*judged, error) {
	j := &judged{plan: planOf(r)}
	if err := t.CheckPlan(j.plan); err != nil {
		return nil, err
	}
	gate := t.Gate()
	for m, asked := range gate.Asked {
		if asked > 0 {
			j.asked = append(j.asked, m)
		}
	}
	if len(j.asked) == 0 {
		return nil, ErrNothingAhead
	}
	n := len(j.asked)
	j.met, j.available, j.short = make([][]bool, n), make([][]float64, n), make([][]float64, n)
	j.closing = make([][]float64, t.Months())
	months, scratch := make([]sim.HubMonth, t.Months()), &trials.Arriving{}
	for i := range t.Seasons {
		t.Hub(months, scratch, j.plan, i)
		j.add(months)
		if w.Prices != nil {
			j.net = append(j.net, w.netOf(r, t, months, i))
		}
	}
	return j, nil
}

// add books one season's months at the hub.
func (j *judged) add(months []sim.HubMonth) {
	all, missing := true, 0
	for c, m := range j.asked {
		h := &months[m]
		j.met[c] = append(j.met[c], h.Met)
		j.available[c] = append(j.available[c], float64(h.Available()))
		j.short[c] = append(j.short[c], float64(h.Asked-h.Delivered))
		all = all && h.Met
		missing += h.Asked - h.Delivered - h.MadeGood
	}
	j.all, j.missing = append(j.all, all), append(j.missing, float64(missing))
	for m := range months {
		j.closing[m] = append(j.closing[m], float64(months[m].Closing))
	}
}

// netOf returns the money of the rest of a season, in units of the currency: what the hub and the sites
// earn less what is paid to others; pay of members is their income.
func (w *run) netOf(r *sim.Region, t *trials.Table, months []sim.HubMonth, i int) float64 {
	var second [][]int32
	sum := money.Amount(0)
	for site := range r.Sites {
		second = append(second, t.MonthFigures(sim.Second, site, r.Sites[site].Dryers, i))
		sum += w.Prices.SiteNet(r, t, site, r.Sites[site].Dryers, i)
	}
	sum += w.Prices.HubNet(months, second)
	return sum.Units()
}

// say judges a way beside as now, and returns what became of it.
func (w *run) say(way *Way, r *sim.Region, t *trials.Table) (*judged, error) {
	j := w.now
	if way.Key != AsNow {
		var err error
		if j, err = w.judge(r, t); err != nil {
			return nil, err
		}
	}
	gate, spans := t.Gate(), t.Spans()
	collections := r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth)
	for c, m := range j.asked {
		month := Month{
			Month: gate.Months[m], Name: gate.Months[m].String(), Asked: gate.Asked[m], Odds: trials.NewWeightedOdds(j.met[c], w.weights),
			Gain: w.gain(j.met[c], w.now.met[c]), Available: trials.NewWeightedBand(j.available[c], w.weights), Missing: trials.NewWeightedAmount(j.short[c], w.weights),
		}
		for _, d := range collections {
			if d >= max(spans[m].FirstDay, r.Start.Day) && d <= spans[m].LastDay {
				month.Collected = append(month.Collected, dateOf(r, d))
			}
		}
		way.Months = append(way.Months, month)
	}
	way.Worst = worst(way.Months)
	way.All, way.Gain = trials.NewWeightedOdds(j.all, w.weights), w.gain(j.all, w.now.all)
	way.Missed = trials.NewWeightedAmount(j.missing, w.weights)
	if j.net != nil && way.Key != AsNow {
		more := trials.NewWeightedMean(less(j.net, w.now.net), w.weights)
		way.Money = &more
	}
	return j, nil
}

// Best returns the index of the way that meets all months ahead most often of those that clearly do so
// more often than as now; below 0 where none does.
func Best(ways []Way) int {
	best := -1
	for k := range ways {
		if g := ways[k].Gain; ways[k].Key != AsNow && g.Low > 0 && (best < 0 || g.Mean > ways[best].Gain.Mean) {
			best = k
		}
	}
	return best
}

// behind says by how much each way lies behind the best, in the same seasons.
func (w *run) behind(ways []Way, lived []*judged) {
	best := Best(ways)
	if best < 0 {
		return
	}
	for k := range ways {
		if k != best && ways[k].Key != AsNow {
			less := w.gain(lived[best].all, lived[k].all)
			ways[k].Behind = &less
		}
	}
}

// worst returns the month with the lowest odds, the earliest of equals.
func worst(months []Month) int {
	at := 0
	for k := range months {
		if months[k].Odds.Share < months[at].Odds.Share {
			at = k
		}
	}
	return at
}

// gain returns by how much more often something holds than another, in the same seasons.
func (w *run) gain(now, before []bool) trials.Mean {
	d := make([]float64, len(now))
	for i := range d {
		switch {
		case now[i] && !before[i]:
			d[i] = 1
		case before[i] && !now[i]:
			d[i] = -1
		}
	}
	return trials.NewWeightedMean(d, w.weights).OfShares()
}

// less returns the differences of two lists.
func less(a, b []float64) []float64 {
	out := slices.Clone(a)
	for i := range out {
		out[i] -= b[i]
	}
	return out
}
