// Package decide turns tables of seasons into answers: how many dryers and
// where, with what odds, and what is short where dryers are not.
package decide

import (
	"time"

	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// MonthResult is one contract month of a plan over many seasons.
type MonthResult struct {
	Month     time.Month  `json:"-"`
	Name      string      `json:"month"`
	Asked     int         `json:"asked_stalks"`
	Odds      trials.Odds `json:"odds"`                  // month met
	Available trials.Band `json:"available_stalks"`      // good stalks at the hub before delivery
	Shortfall trials.Mean `json:"mean_shortfall_stalks"` // asked less delivered
	Stock     trials.Fan  `json:"available_fan_stalks"`  // Available, as it is drawn
}

// PlanResult is a plan judged on seasons that were not used to choose it.
type PlanResult struct {
	Dryers    int           `json:"dryers"`            // in all
	PerSite   []int         `json:"dryers_per_site"`   // in the order of Answer.Sites
	Months    []MonthResult `json:"months"`            // contract months only
	Worst     int           `json:"worst_month_index"` // index into Months of the lowest odds
	Odds      trials.Odds   `json:"target_odds"`       // of the goal: those of the worst month, unless another is asked
	AllMonths trials.Odds   `json:"all_months"`        // every contract month of the season met
	Share     trials.Mean   `json:"share_delivered"`   // delivered over asked, whole season
	Flow      Flow          `json:"flow"`              // stalks of an average season
	Rain      []RainMonth   `json:"rain"`              // of the seasons behind it
	RainAt    string        `json:"rain_at,omitempty"` // the site that had it, where others had other rain
	// Strict is nil where the contract has no tolerance, or the goal does not go by months met.
	Strict *WithoutTolerance `json:"without_tolerance,omitempty"`
}

// WithoutTolerance is how a plan would do in the same seasons if nothing of a month's contract
// might be missing for it to count as met.
type WithoutTolerance struct {
	Tolerance float64     `json:"tolerance_share"` // that the contract allows, of a month
	WorstName string      `json:"worst_month"`
	Worst     trials.Odds `json:"worst_month_odds"`
	AllMonths trials.Odds `json:"all_months"`
	Odds      trials.Odds `json:"target_odds"`
}

// RainMonth is the rain of one month of the season, of the first group of sites.
type RainMonth struct {
	Name string      `json:"month"`
	MM   trials.Band `json:"mm"`
	Mean trials.Mean `json:"mean_mm"`
}

// WorstMonth returns the month with the lowest odds.
func (p PlanResult) WorstMonth() MonthResult { return p.Months[p.Worst] }

// Step compares a number of dryers with one fewer in the same seasons.
type Step struct {
	Dryers    int         `json:"dryers"`
	Gain      trials.Mean `json:"gain_share"` // of the goal's odds of Dryers over Dryers-1, as fraction, same seasons
	ToldApart bool        `json:"told_apart"`
}

// Swing is how the answer moves by one uncertain parameter: the needed number
// in the third of seasons with the lowest and with the highest values.
type Swing struct {
	Parameter   string      `json:"parameter"`
	Low         int         `json:"dryers_low_third"`   // -1: no number reaches the target
	High        int         `json:"dryers_high_third"`  // -1: no number reaches the target
	LowSeasons  int         `json:"low_third_seasons"`  // of the third, that the number has lived through
	HighSeasons int         `json:"high_third_seasons"` // of the third, that the number has lived through
	LowBelow    float64     `json:"low_third_below"`    // the third ends here
	HighAbove   float64     `json:"high_third_above"`   // the third begins here
	Unit        string      `json:"unit"`
	OddsLow     trials.Odds `json:"odds_low_third"`  // of the answer's plan
	OddsHigh    trials.Odds `json:"odds_high_third"` // of the answer's plan
	Measure     string      `json:"how_to_measure"`
}

// ToldApart tells whether the odds of the thirds differ by more than chance: their intervals
// do not meet.
func (s *Swing) ToldApart() bool {
	return s.OddsLow.High < s.OddsHigh.Low || s.OddsHigh.High < s.OddsLow.Low
}

// Answer is the reply to "how many dryers and where".
type Answer struct {
	Region        string       `json:"region"`
	Sites         []string     `json:"sites"`
	Target        float64      `json:"target_share"`   // odds asked for
	Goal          goal.Goal    `json:"target"`         // of what
	SearchSeasons int          `json:"search_seasons"` // used to choose placements
	Seasons       int          `json:"seasons"`        // fresh, behind the plan to fund; every figure states its own
	Seed          uint64       `json:"seed"`
	Standing      []int        `json:"standing_per_site"` // dryers that every plan keeps
	Plans         []PlanResult `json:"plans"`             // from those that stand upward, best placement of each
	Needed        int          `json:"needed_plan_index"` // index into Plans of the number to fund: proven enough, or else the smallest that reaches the target; -1 if none
	// NeededStrictly is the smallest number, from Needed on, that reaches the target without the
	// tolerance of the contract, in the same seasons and not proven: an index into Plans; -1 if
	// none tried does, nothing is needed, or there is no tolerance.
	NeededStrictly int      `json:"needed_plan_index_without_tolerance"`
	Proof          Proof    `json:"proof"`
	Whole          bool     `json:"run_whole"` // plans could not be put together from sites: stalks are hauled or dryers moved
	Steps          []Step   `json:"steps"`
	Phases         []Phase  `json:"phases"` // from what stands to the plan to fund, or to the best where none reaches the target
	Swings         []Swing  `json:"swings"`
	Hub            HubAir   `json:"hub"`   // with Short, at the same plan
	Short          Shortage `json:"short"` // at the needed plan, or at the best one where none reaches the target
	Worth          *Worth   `json:"value_of_knowing,omitempty"`
	Money          []Earns  `json:"money,omitempty"`   // by plan
	Stopped        Stop     `json:"stopped,omitempty"` // how far an interrupted run came
}

// Earns is what a plan costs and earns in a year, in units of the currency. Its dryers are in it
// by the year, less what a grant pays of them.
type Earns struct {
	Dryers     int          `json:"dryers"`
	Cutters    string       `json:"cutters_are"` // members, whose pay is their income, or hired
	GrantShare float64      `json:"grant_share"` // of the cost of the dryers, in no figure here
	Net        trials.Mean  `json:"net_a_year"`
	Members    *trials.Mean `json:"members_have_a_year,omitempty"` // their pay, and what is left over; nil where the hands are hired
	PerGood    trials.Mean  `json:"cost_of_a_good_stalk"`          // all costs over good stalks delivered
	Parts      []Part       `json:"parts"`
	ToFund     *ToFund      `json:"to_fund,omitempty"`         // nil where it is not asked how many dryers to buy
	More       *More        `json:"more_than_first,omitempty"` // than the first plan of the answer; nil for that one
}

// More is what a plan meets and costs more in a year than the plan with the fewest dryers, in the
// same seasons. The cost is what is paid to others, by whomever: crew, wood, transport, bags, upkeep,
// rent, and the dryers at their full price by the year. Pay to the group's own people is their
// income and not in it, nor are penalties. A ratio whose divisor cannot be told from nothing has an open interval.
type More struct {
	Cost      trials.Mean `json:"cost_a_year"`
	MonthsMet trials.Mean `json:"months_met_a_year"`
	Delivered trials.Mean `json:"delivered_stalks_a_year"`
	PerMonth  trials.Mean `json:"cost_of_a_month_met_more"`
	PerStalk  trials.Mean `json:"cost_of_a_stalk_more"`
}

// ToFund is what has to be found for the dryers of a plan that do not stand yet.
type ToFund struct {
	New int `json:"new_dryers"`
	money.Funding
}

// Part is one part of the money of an average year.
type Part struct {
	Of      string      `json:"part"` // key of a money.Part, or DryersByTheYear
	Year    trials.Mean `json:"a_year"`
	PerGood trials.Mean `json:"a_good_stalk"`
}
