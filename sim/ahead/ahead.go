package ahead

import (
	"context"
	"fmt"
	"math"
	"time"

	"drystalk/sim"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Question is what is asked on a day of the season. The region of the setup has what lies where today
// (sim.Region.Start).
type Question struct {
	Setup         trials.Setup
	Prices        *money.Prices // nil where none are stated
	Target        float64       // odds wanted, fraction
	Seasons       int
	Night         bool // those who tend the fire have agreed to work at night
	RentReadyDays int  // until a rented dryer works
	Truck         *Truckload
	Progress      func(done int)

	rentAt int // the site of a rented dryer; below 0: none is tried
}

// Truckload is dry good stalks that may be bought once, delivered to the hub.
type Truckload struct {
	Stalks int
	Day    int     // of the season, on which they come
	Price  float64 // of a stalk, in units of the currency
}

// Answer is what lies ahead on a day of the season.
type Answer struct {
	Region    string   `json:"region"`
	Sites     []string `json:"sites"`
	Today     string   `json:"today"`         // in words, such as 14 July
	Target    float64  `json:"target_share"`  // odds asked for
	Seasons   int      `json:"seasons"`       // lived through from today on
	Effective float64  `json:"worth_seasons"` // of equal weight, that the seasons are worth by their weights
	Weighted  bool     `json:"weighted"`      // something that was shown or is foreseen makes seasons count differently
	Tallied   bool     `json:"output_known"`  // what was cut so far is behind the luck of output
	Rain      bool     `json:"rain_known"`    // the rain so far is behind the weather
	Outlook   int      `json:"outlook_days"`  // whose rain is taken as it was foreseen
	Lies      Lies     `json:"lies_today"`
	Ways      []Way    `json:"ways"`            // as now first
	NightLeft bool     `json:"night_not_asked"` // night fires were not tried: nobody gave the word
	RentLate  bool     `json:"rent_too_late"`   // a rented dryer was not tried: it would be ready only after the last month that asks
	Stock     []Stock  `json:"stock_by_date"`
	Load      []Load   `json:"load_today"` // by site with dryers
	Truck     *Truck   `json:"truckload,omitempty"`
	Output    *Output  `json:"output_so_far,omitempty"`
}

// Lies is what lies where today, stalks.
type Lies struct {
	Wet       int `json:"wet_stalks"`        // in the yards
	InDryers  int `json:"in_dryers_stalks"`  // dried, not unloaded yet
	InStores  int `json:"in_stores_stalks"`  // dry, at the sites
	AtHub     int `json:"at_hub_stalks"`     // good
	Delivered int `json:"delivered_stalks"`  // to the buyer this month already
	Comes     int `json:"comes_once_stalks"` // from outside, in the days ahead
}

// Output is what the tallies say of the season's luck.
type Output struct {
	Days   int         `json:"days_of_cutting"`     // written down, all sites together
	Sites  int         `json:"sites_tallied"`       // of which such days are written down
	Fewest int         `json:"fewest_days_of_site"` // of those
	Most   int         `json:"most_days_of_site"`
	Now    trials.Band `json:"of_what_is_stated"`   // output of all sites for the rest of the season, over what the plan states, as the seasons now have it
	Before trials.Band `json:"before_what_was_cut"` // the same if nothing had been written down
}

// Way is a way of working on, judged in the same seasons as all others.
type Way struct {
	Key    Key          `json:"way"`
	Site   string       `json:"site,omitempty"` // of the rented dryer
	Months []Month      `json:"months"`         // that still ask for stalks
	Worst  int          `json:"worst_month_index"`
	All    trials.Odds  `json:"all_months"`
	Gain   trials.Mean  `json:"gain_share"`                  // of the odds that all months ahead are met, over as now, in the same seasons
	Behind *trials.Mean `json:"behind_best_share,omitempty"` // by how much these odds lie below those of the way that clearly gains most, in the same seasons; nil for that way, for as now, and where none clearly gains
	Missed trials.Mean  `json:"missing_stalks"`              // of the contract, all months ahead
	Money  *trials.Mean `json:"money_more,omitempty"`        // that the region has more for the rest of the season than as now, pay of members included; nil for as now, or without prices
}

// Month is a contract month ahead.
type Month struct {
	Month     time.Month  `json:"-"`
	Name      string      `json:"month"`
	Collected []string    `json:"collections"`  // days on which stalks go to the hub, from today on
	Asked     int         `json:"asked_stalks"` // still
	Odds      trials.Odds `json:"odds"`
	Gain      trials.Mean `json:"gain_share"`       // over as now
	Available trials.Band `json:"available_stalks"` // good stalks at the hub before delivery
	Missing   trials.Mean `json:"mean_shortfall_stalks"`
}

// ErrNothingAhead is returned where no month from today on asks for stalks.
var ErrNothingAhead = tongue.Fault("no month from today to the end of the season asks for stalks: all is delivered, or the season is over")

// run is the answer while it is worked out.
type run struct {
	*Question
	region  *sim.Region
	weights []float64
	now     *judged
}

// Ask works out what lies ahead.
func Ask(ctx context.Context, q Question) (Answer, error) {
	r := q.Setup.Region
	if !r.Start.Stated() {
		return Answer{}, tongue.Fault("what lies where today is not stated")
	}
	a := newAnswer(&q)
	a.RentLate = q.rentTooLate()
	if err := q.findRentSite(ctx); err != nil {
		return a, err
	}
	variants, ways := q.variants(&a)
	tables, err := q.Setup.Tables(ctx, 0, q.Seasons, variants, q.Progress)
	if err != nil {
		return a, err
	}
	w := run{Question: &q, region: r, weights: q.Setup.Weights(tables[0])}
	a.Effective, a.Output = trials.Effective(w.weights), w.output(tables[0])
	if w.now, err = w.judge(variants[0].Region, tables[0]); err != nil {
		return a, err
	}
	lived := make([]*judged, len(ways))
	for v := range ways {
		if lived[v], err = w.say(&ways[v], variants[v].Region, tables[v]); err != nil {
			return a, err
		}
	}
	w.behind(ways, lived)
	n := len(ways)
	if q.Truck != nil {
		if a.Truck, err = w.truck(variants[n].Region, tables[n]); err != nil {
			return a, err
		}
		n++
	}
	a.Ways, a.Stock, a.Load = ways, w.stock(tables[n], tables[0]), w.loads(tables[0])
	return a, nil
}

// newAnswer says what is asked and what lies where.
func newAnswer(q *Question) Answer {
	r := q.Setup.Region
	a := Answer{Region: r.Name, Today: dateOf(r, r.Start.Day), Target: q.Target, Seasons: q.Seasons}
	a.Lies = Lies{AtHub: r.Start.Hub, Delivered: r.Start.Delivered}
	for i := range r.Sites {
		a.Sites = append(a.Sites, r.Sites[i].Name)
		at := &r.Start.Sites[i]
		a.Lies.InDryers += at.Waiting
		a.Lies.InStores += at.Store
		for _, l := range at.Yard {
			a.Lies.Wet += l.Stalks
		}
	}
	for _, c := range r.Start.Comes {
		a.Lies.Comes += c.Stalks
	}
	if k := q.Setup.Known; k != nil {
		a.Tallied, a.Rain, a.Outlook = len(k.Output) > 0, k.RainMM != nil, len(k.OutlookMM)
		a.Weighted = a.Tallied || k.Thirds != [3]float64{}
	}
	return a
}

// variants are the plans that live through the seasons: as now, each way that differs from it, with the
// truckload, and sites that never rest. The ways are those judged, in the same order.
func (q *Question) variants(a *Answer) (variants []trials.Variant, ways []Way) {
	r := q.Setup.Region
	add := func(region *sim.Region) {
		variants = append(variants, trials.Variant{Region: region, Levels: trials.Only(planOf(region))})
	}
	add(r)
	ways = []Way{{Key: AsNow}}
	for _, w := range table {
		changed := r.Clone()
		if !w.apply(changed, q) {
			continue
		}
		if w.night && !q.Night {
			a.NightLeft = true
			continue
		}
		add(changed)
		ways = append(ways, Way{Key: w.key})
		if w.key == RentDryer {
			ways[len(ways)-1].Site = r.Sites[q.rentAt].Name
		}
	}
	if t := q.Truck; t != nil {
		bought := r.Clone()
		bought.Start.Comes = append(bought.Start.Comes, sim.Coming{Day: t.Day, Site: sim.AtHub, Stalks: t.Stalks})
		add(bought)
	}
	apart := trials.Variant{Region: r.Clone(), Levels: trials.Only(planOf(r)), Apart: true}
	return append(variants, apart), ways
}

// planOf returns the dryers of each site.
func planOf(r *sim.Region) []int {
	plan := make([]int, len(r.Sites))
	for i := range plan {
		plan[i] = r.Sites[i].Dryers
	}
	return plan
}

// dateOf says a day of the season.
func dateOf(r *sim.Region, day int) string {
	month, dom := r.Calendar.Date(day)
	return fmt.Sprintf("%d %s", dom, month)
}

// rentSeasons are the seasons, apart from those behind the figures, that find the site of a rented
// dryer, and the number of their first.
const (
	rentSeasons     = 30
	firstRentSeason = 1_000_000
)

// rentTooLate tells whether a rented dryer would be ready only after the last month that asks for stalks.
func (q *Question) rentTooLate() bool {
	r := q.Setup.Region
	gate := r.Gate()
	last := gate.LastAsked()
	return last >= 0 && r.Start.Day+q.RentReadyDays > r.Calendar.Months()[last].LastDay
}

// findRentSite finds the site at which one more dryer leaves the fewest stalks missing.
func (q *Question) findRentSite(ctx context.Context) error {
	r := q.Setup.Region
	if q.rentTooLate() {
		q.rentAt = -1
		return nil
	}
	sites := rentSites(r)
	if q.rentAt = sites[0]; len(sites) == 1 || r.Hauls() || len(r.Moves) > 0 {
		return nil
	}
	var variants []trials.Variant
	for _, site := range sites {
		more := r.Clone()
		oneMore(more, site, q.RentReadyDays)
		variants = append(variants, trials.Variant{Region: more, Levels: trials.Only(planOf(more))})
	}
	tables, err := q.Setup.Tables(ctx, firstRentSeason, rentSeasons, variants, nil)
	if err != nil {
		return err
	}
	fewest := math.Inf(1)
	for v, t := range tables {
		w := run{Question: q, region: r, weights: q.Setup.Weights(t)}
		j, err := w.judge(variants[v].Region, t)
		if err != nil {
			return err
		}
		if missing := trials.NewWeightedMean(j.missing, w.weights).Mean; missing < fewest {
			fewest, q.rentAt = missing, sites[v]
		}
	}
	return nil
}

// output says what the tallies tell of the season's output; nil where there are none.
func (w *run) output(t *trials.Table) *Output {
	k := w.Setup.Known
	if k == nil || len(k.Output) == 0 {
		return nil
	}
	o := &Output{Before: trials.NewBand(w.Setup.Outputs(t, false)), Now: trials.NewWeightedBand(w.Setup.Outputs(t, true), w.weights)}
	for i := range k.Output {
		n := k.Output[i].Days
		if n == 0 {
			continue
		}
		if o.Days += n; o.Sites == 0 {
			o.Fewest = n
		}
		o.Sites, o.Fewest, o.Most = o.Sites+1, min(o.Fewest, n), max(o.Most, n)
	}
	return o
}
