package ways

import (
	"context"
	"slices"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// RivalQuestion is "what would working better do in place of what is offered?".
type RivalQuestion struct {
	Setup   trials.Setup // the region as written, which may work better
	Plans   [][]int      // dryers with which it is tried, from the fewest to those next to what is offered
	Offered trials.Setup // the region that an answer offers, its dryers as offered
	Goal    goal.Goal
	Target  float64
	Prices  *money.Prices // nil: nothing is said of money
	Seasons int           // of the answer: no more are lived through for a rival

	// Known are seasons from number 0 on that the answer has lived through already, with the dryers
	// of each of Plans, the region as written, and last with what is offered; nil where it has none.
	// Too few of them are lived through anew.
	Known []*trials.Table
}

// known returns the first n seasons that the answer has of its k-th plan, what is offered being the
// last; nil where it has fewer.
func (q *RivalQuestion) known(k, n int) *trials.Table {
	if k >= len(q.Known) || q.Known[k] == nil || q.Known[k].Seasons < n {
		return nil
	}
	return q.Known[k].Before(n)
}

// Rival is the best free rival of what an answer offers: a way of working found in a small search,
// judged in the first seasons of the answer.
type Rival struct {
	Changes       []Change    `json:"changes"`
	Edits         []string    `json:"edits"` // of the scenario
	PerSite       []int       `json:"dryers_per_site"`
	Dryers        int         `json:"dryers"`
	Seasons       int         `json:"seasons"`
	Worst         string      `json:"worst_month"`
	Odds          trials.Odds `json:"target_odds"`
	Without       trials.Odds `json:"target_odds_as_written"` // with the same dryers, worked as now
	Offered       trials.Odds `json:"target_odds_offered"`    // of what is offered, in the same seasons
	OfferedDryers int         `json:"dryers_offered"`
	Gain          trials.Mean `json:"gain_share"`    // over the same dryers worked as now
	Income        money.Pair  `json:"income_a_year"` // of what is offered and of the rival, what is bought by the year taken off
	Hours         money.Pair  `json:"hours_a_year_person_h"`
	Cutters       string      `json:"cutters_are"` // members or hired; "" without prices
	Members       int         `json:"members"`
	Reaches       bool        `json:"reaches_target"`
}

// The size of the search for a rival: a few levers that carried most wherever they were tried, each
// at one value, in so many seasons.
const (
	rivalSearch  = 30
	rivalSeasons = 150
	rivalQuick   = 60 // that find the fewest dryers
)

// rivalValues are the values that a rival may work at; for a factor or a choice as in the table.
var rivalValues = []struct {
	of Lever
	x  float64
}{{Loading, 6}, {StockAhead, 2}, {StockAhead, 4}, {Spreading, 1}}

// FindRival looks for the best free rival; nil where no way that was tried does more than chance.
func FindRival(ctx context.Context, q RivalQuestion) (*Rival, error) {
	at := max(0, len(q.Plans)-2)
	best, err := q.choose(ctx, q.Plans[at])
	if err != nil || best == nil {
		return nil, err
	}
	for ; at >= 0; at-- { // down to the fewest dryers that may do, in few seasons
		quick, err := q.tried(ctx, at, best, min(rivalQuick, q.seasons()))
		if err != nil {
			return nil, err
		}
		if !quick.reaches {
			break
		}
	}
	found, err := q.tried(ctx, min(at+1, len(q.Plans)-1), best, q.seasons())
	for at += 2; err == nil && !found.reaches && at < len(q.Plans); at++ { // what so few told was luck
		found, err = q.tried(ctx, at, best, q.seasons())
	}
	if err != nil {
		return nil, err
	}
	return q.beside(ctx, found, best)
}

// tried is a plan worked better.
type tried struct {
	at      int // of the plans
	search  *search
	lived   lived
	plan    []int
	result  decide.PlanResult
	reaches bool // the target, as far as so few seasons tell
}

// tried lives through so many fresh seasons with the k-th plan worked better.
func (q *RivalQuestion) tried(ctx context.Context, k int, best design, seasons int) (tried, error) {
	t := tried{at: k, search: q.searchWith(q.Plans[k]), plan: q.Plans[k]}
	got, err := t.search.space.live(ctx, 0, seasons, []design{best}, nil)
	if err != nil {
		return t, err
	}
	t.lived = got[0]
	t.result, err = decide.JudgeFor(q.Goal, t.lived.region, t.lived.table, t.plan)
	t.reaches = t.result.Odds.Share >= q.Target
	return t, err
}

// seasons is how many fresh seasons a rival lives through.
func (q *RivalQuestion) seasons() int { return min(rivalSeasons, q.Seasons) }

// searchWith is a search over the levers of a rival with the dryers of a plan.
func (q *RivalQuestion) searchWith(plan []int) *search {
	set := q.Setup
	set.Region = set.Region.Clone()
	for i, n := range plan {
		set.Region.Sites[i].Dryers = n
	}
	var keys []Lever
	for _, v := range rivalValues {
		keys = append(keys, v.of)
	}
	s := &search{Question: Question{Setup: set, Goal: q.Goal, Prices: q.Prices}, space: newSpace(set, Allowed{}, keys)}
	s.found = s.stretch(decide.FirstSearchSeason, min(rivalSearch, q.Seasons))
	return s
}

// choose returns the best way among single values and the best of them together; nil where none does
// more in the search seasons.
func (q *RivalQuestion) choose(ctx context.Context, plan []int) (design, error) {
	s := q.searchWith(plan)
	best := s.space.written
	for range 2 { // one value, then a second on top
		tries := append([]design{best}, s.rivals(best)...)
		if err := s.found.need(ctx, tries...); err != nil {
			return nil, err
		}
		for _, d := range tries {
			if better(s.found.score(d), s.found.score(best)) {
				best = d
			}
		}
	}
	if slices.Equal(best, s.space.written) {
		return nil, nil
	}
	return best, nil
}

// rivals are the ways that the values of a rival lead to from a way: of levers that it has not moved.
func (s *search) rivals(from design) []design {
	var out []design
	for _, v := range rivalValues {
		for l, lever := range s.space.levers {
			at := slices.IndexFunc(s.space.ladders[l], func(r rung) bool { return r.x == v.x && !r.written })
			if lever.key == v.of && at >= 0 && from[l] == s.space.written[l] {
				out = append(out, from.with(l, at))
			}
		}
	}
	return out
}

// beside sets a rival beside the same dryers worked as now and what is offered, in the same seasons;
// nil where it does not clearly do more than the same dryers do now.
func (q *RivalQuestion) beside(ctx context.Context, t tried, best design) (*Rival, error) {
	s := t.search
	now, err := q.asWritten(ctx, t)
	if err != nil {
		return nil, err
	}
	r := &Rival{
		Changes: s.changesIn(best, s.space.changed(best)), Edits: s.space.edits(best), PerSite: t.plan, Dryers: t.result.Dryers, Seasons: q.seasons(),
		Worst: t.result.WorstMonth().Name, Odds: t.result.Odds, Reaches: t.reaches,
	}
	if r.Gain, err = s.gain(t.lived, now); err != nil || r.Gain.Low <= 0 {
		return nil, err
	}
	without, err := decide.JudgeFor(q.Goal, now.region, now.table, t.plan)
	if err != nil {
		return nil, err
	}
	plan := decide.PlanOf(q.Offered.Region)
	table := q.known(len(q.Plans), q.seasons())
	if q.Offered.Region == q.Setup.Region && slices.Equal(plan, t.plan) {
		table = now.table
	}
	if table == nil {
		if table, err = q.Offered.Table(ctx, 0, q.seasons(), trials.Only(plan), nil); err != nil {
			return nil, err
		}
	}
	offered, err := decide.JudgeFor(q.Goal, q.Offered.Region, table, plan)
	if err != nil {
		return nil, err
	}
	r.Without, r.Offered, r.OfferedDryers = without.Odds, offered.Odds, offered.Dryers
	for i := range q.Setup.Region.Sites {
		r.Members += q.Setup.Region.Sites[i].Cutters
	}
	return r, q.people(r, lived{q.Offered.Region, q.Offered, table}, t.lived)
}

// asWritten returns the seasons of the plan of a rival worked as now.
func (q *RivalQuestion) asWritten(ctx context.Context, t tried) (lived, error) {
	space := t.search.space
	if table := q.known(t.at, q.seasons()); table != nil {
		return lived{space.set.Region, space.set, table}, nil
	}
	now, err := space.live(ctx, 0, q.seasons(), []design{space.written}, nil)
	if err != nil {
		return lived{}, err
	}
	return now[0], nil
}

// people says what those whose work it is have of what is offered and of a rival.
func (q *RivalQuestion) people(r *Rival, offered, rival lived) error {
	var hours, income [2][]float64
	for k, l := range []lived{offered, rival} {
		plan := decide.PlanOf(l.region)
		y, err := money.NewPlay(l.region, l.table, plan)
		if err != nil {
			return err
		}
		hours[k] = hoursOf(y)
		if q.Prices == nil {
			continue
		}
		if income[k], err = incomes(q.Prices, l, plan); err != nil {
			return err
		}
		items, _ := money.Items(q.Prices, q.Setup.Region, l.region, decide.PlanOf(q.Setup.Region), plan)
		yearly := q.Prices.YearlyCost(items)
		for i := range income[k] {
			income[k][i] -= yearly
		}
	}
	r.Hours = pairOf(hours[0], hours[1])
	if q.Prices != nil {
		r.Income, r.Cutters = pairOf(income[0], income[1]), q.Prices.Hands.String()
	}
	return nil
}
