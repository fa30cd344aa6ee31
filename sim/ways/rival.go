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
	// Those that it lacks are lived through.
	Known []*trials.Table
}

// known returns the first seasons, up to n, that the answer has of its k-th plan, what is offered being
// the last; nil where it has none.
func (q *RivalQuestion) known(k, n int) *trials.Table {
	if k >= len(q.Known) || q.Known[k] == nil {
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
	rivalStep    = 20 // after which it is asked whether the rest could still help
)

// rivalValues are the values that a rival may work at; for a factor or a choice as in the table.
var rivalValues = []struct {
	of Lever
	x  float64
}{{Loading, 6}, {StockAhead, 2}, {StockAhead, 4}, {Spreading, 1}}

// FindRival looks for the best free rival; nil where no way that was tried does more than chance.
func FindRival(ctx context.Context, q RivalQuestion) (*Rival, error) {
	best, err := q.choose(ctx, q.Plans[max(0, len(q.Plans)-2)])
	if err != nil || best == nil {
		return nil, err
	}
	tries := make([]*tried, len(q.Plans))
	for k, plan := range q.Plans {
		s := q.searchWith(plan)
		tries[k] = &tried{at: k, search: s, plan: plan, walk: walk{of: s.space, design: best}}
	}
	at, err := q.fewest(ctx, tries)
	if err != nil {
		return nil, err
	}
	for ; ; at++ { // what so few seasons told may have been luck
		reaches, err := q.reached(ctx, tries[at], q.seasons())
		if err != nil {
			return nil, err
		}
		if reaches || at == len(tries)-1 {
			return q.beside(ctx, tries[at], best)
		}
	}
}

// fewest returns which of the plans, worked better, has the fewest dryers that may reach the target by
// a few seasons each, looking in the middle of what is open; the last where none before it does.
func (q *RivalQuestion) fewest(ctx context.Context, tries []*tried) (int, error) {
	low, high := 0, len(tries)-1
	for low < high {
		mid := (low + high) / 2
		reaches, err := q.reached(ctx, tries[mid], min(rivalQuick, q.seasons()))
		if err != nil {
			return 0, err
		}
		if reaches {
			high = mid
		} else {
			low = mid + 1
		}
	}
	return low, nil
}

// tried is a plan worked better.
type tried struct {
	walk

	at     int // of the plans
	search *search
	plan   []int
	result decide.PlanResult // of the seasons lived through
}

// reached lives through so many fresh seasons with a plan worked better and tells whether it reaches
// the target, as far as they tell. It stops where even the seasons left could not bring it there.
func (q *RivalQuestion) reached(ctx context.Context, t *tried, seasons int) (bool, error) {
	for n := rivalStep; ; n += rivalStep {
		n = min(n, seasons)
		if err := onward(ctx, n, &t.walk); err != nil {
			return false, err
		}
		var err error
		if t.result, err = decide.JudgeFor(q.Goal, t.lived.region, t.lived.table, t.plan); err != nil {
			return false, err
		}
		o := t.result.Odds
		switch most := float64(seasons-o.Seasons+o.Met) / float64(seasons); {
		case o.Seasons >= seasons:
			return o.Share >= q.Target, nil
		case most < q.Target:
			return false, nil
		}
	}
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
func (q *RivalQuestion) beside(ctx context.Context, t *tried, best design) (*Rival, error) {
	s := t.search
	now, err := q.asWritten(ctx, t)
	if err != nil {
		return nil, err
	}
	reaches, err := q.reached(ctx, t, q.seasons())
	if err != nil {
		return nil, err
	}
	r := &Rival{
		Changes: s.changesIn(best, s.space.changed(best)), Edits: s.space.edits(best), PerSite: t.plan, Dryers: t.result.Dryers, Seasons: q.seasons(),
		Worst: t.result.WorstMonth().Name, Odds: t.result.Odds, Reaches: reaches,
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
	if table == nil || table.Seasons < q.seasons() {
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

// asWritten returns the seasons of the plan of a rival worked as now, those that the answer does not
// have side by side with what the rival has not lived through yet.
func (q *RivalQuestion) asWritten(ctx context.Context, t *tried) (lived, error) {
	space := t.search.space
	now := walk{of: space, design: space.written, lived: lived{space.set.Region, space.set, q.known(t.at, q.seasons())}}
	if err := onward(ctx, q.seasons(), &now, &t.walk); err != nil {
		return lived{}, err
	}
	return now.lived, nil
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
