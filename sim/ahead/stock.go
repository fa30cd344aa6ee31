package ahead

import (
	"drystalk/sim/trials"
)

// Stock is how many dry good stalks must lie at the hub on a day for all months after it, and how many
// will if all goes on as now.
type Stock struct {
	Date     string      `json:"date"`            // at its end; today: in the morning
	Needed   int         `json:"needed_stalks"`   // so that in the wanted share of seasons all contract months after that day are met, if everybody cuts what racks and dryers take
	Expected trials.Band `json:"expected_stalks"` // as now; on today's row what is there, stores of the sites included
	Enough   trials.Odds `json:"odds_enough"`     // that so much lies there, as now
}

// stock works out how much must lie in store by the end of each month. What comes after a date is that
// of sites that are never told that the hub has enough, and none of it is taken to spoil at the hub.
func (w *run) stock(apart, now *trials.Table) []Stock {
	gate, spans := now.Gate(), now.Spans()
	arrives := w.arriving(apart)
	first := 0
	for spans[first].LastDay < w.region.Start.Day {
		first++
	}
	have := float64(w.region.Start.Hub) + w.Setup.Base.AcceptedShare*float64(dryAtSites(w))
	today := make([]float64, now.Seasons)
	for i := range today {
		today[i] = have
	}
	out := []Stock{w.stockRow("today", first, arrives, today)}
	for m := first; m < gate.LastAsked(); m++ {
		out = append(out, w.stockRow(dateOf(w.region, spans[m].LastDay), m+1, arrives, w.now.closing[m]))
	}
	return out
}

// dryAtSites returns the dry stalks in stores and dryers of the sites today.
func dryAtSites(w *run) int {
	n := 0
	for i := range w.region.Start.Sites {
		n += w.region.Start.Sites[i].Store + w.region.Start.Sites[i].Waiting
	}
	return n
}

// arriving returns what comes to the hub by season and month, what comes once included; the stalks that
// lie dry at the sites today are not counted with it.
func (w *run) arriving(apart *trials.Table) [][]float64 {
	out := make([][]float64, apart.Seasons)
	comes := apart.Gate().Comes
	for i := range out {
		out[i] = make([]float64, apart.Months())
		for site := range w.region.Sites {
			for m, n := range apart.Accepted(site, w.region.Sites[site].Dryers, i) {
				out[i][m] += float64(n)
			}
		}
		for m, n := range comes {
			out[i][m] += float64(n)
		}
	}
	return out
}

// stockRow says what must lie there before month from, and what will.
func (w *run) stockRow(date string, from int, arrives [][]float64, expected []float64) Stock {
	gate := w.region.Gate()
	needs := make([]float64, len(arrives))
	dry := 0.0
	if date == "today" { // it is in what lies there already
		dry = w.Setup.Base.AcceptedShare * float64(dryAtSites(w))
	}
	for i := range needs {
		sum := dry
		for m := from; m < len(gate.Least); m++ {
			sum += float64(gate.Least[m]) - arrives[i][m]
			needs[i] = max(needs[i], sum)
		}
	}
	s := Stock{Date: date, Needed: int(trials.WeightedQuantile(w.Target, needs, w.weights))}
	enough := make([]bool, len(expected))
	for i, x := range expected {
		enough[i] = x >= float64(s.Needed)
	}
	s.Expected, s.Enough = trials.NewWeightedBand(expected, w.weights), trials.NewWeightedOdds(enough, w.weights)
	return s
}
