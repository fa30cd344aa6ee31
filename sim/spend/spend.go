// Package spend says what a budget buys for a region, in which order, and how the odds of the
// contract stand after each purchase.
//
// What can be bought is a table of levers (levers.go). The search (search.go, look.go) knows no
// lever by name but the dryer, and cheapest.go is that for the cheapest list; designs (design.go)
// say how much of each is bought, bundles.go what may be bought in one go, rows.go runs them
// through seasons, prune.go leaves out what is not needed, order.go lays out what is left step by
// step, and judge.go, lived.go and harm.go say how the list does in fresh seasons.
package spend

import (
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Question is "with this budget, what do we buy?".
type Question struct {
	Setup         trials.Setup
	MaxDryers     []int // by site: the most that may be placed there
	Prices        *money.Prices
	Budget        money.Amount
	Cheapest      bool      // the list that reaches the target for least, instead of all that helps
	Target        float64   // odds wanted
	Goal          goal.Goal // of what; of the worst contract month unless stated
	SearchSeasons int       // choose what is bought
	Seasons       int       // fresh ones, behind the first and the last line of the list
	Progress      func(stage decide.Stage, done, of int)
}

// Ending is why the list ends where it does.
type Ending string

// The endings.
const (
	AllMet       Ending = "all_met"       // every month is met in every season searched
	TargetMet    Ending = "target_met"    // the target is reached: the cheapest list is wanted
	NothingHelps Ending = "nothing_helps" // that the rest of the budget buys, by more than chance
	Interrupted  Ending = "interrupted"
)

// Endings lists all endings.
func Endings() []Ending { return []Ending{AllMet, TargetMet, NothingHelps, Interrupted} }

// Bought is one step of the list: what is bought, and how the plan stands after it.
type Bought struct {
	Site  string             `json:"site"` // "" for the region
	What  []Quantity         `json:"what"`
	Cost  money.Amount       `json:"cost"`
	Spent money.Amount       `json:"spent_so_far"`
	Worst decide.MonthResult `json:"worst_month"` // on fresh seasons
	Odds  trials.Odds        `json:"target_odds"`
	All   trials.Odds        `json:"all_months"`
	Gain  trials.Mean        `json:"gain_share"`           // of the target's odds over the step before, fraction, paired
	Fewer trials.Mean        `json:"fewer_missing_stalks"` // stalks missing a season than the step before, paired
}

// Quantity is so much of one thing.
type Quantity struct {
	Of   Lever   `json:"of"`
	Size float64 `json:"size"`
	Unit string  `json:"unit"` // "" where it is counted
}

// InAll is how much of one thing is bought at each site, in the order of Answer.Sites; the
// last entry is that of the region.
type InAll struct {
	Of      Lever     `json:"of"`
	Unit    string    `json:"unit"`
	PerSite []float64 `json:"per_site"`
}

// Answer is what to buy, in order.
type Answer struct {
	Budget        money.Amount  `json:"budget"`                   // 0: as much as it takes
	Cheapest      bool          `json:"cheapest,omitempty"`       // the list that reaches the target for least
	Smaller       money.Amount  `json:"list_of_budget,omitempty"` // whose list this is, where the larger budget found none as good; 0: its own
	Goal          goal.Goal     `json:"target"`
	SearchSeasons int           `json:"search_seasons"`
	Seasons       int           `json:"seasons"`      // fresh, behind the plan as written and the one with the whole list
	LineSeasons   int           `json:"line_seasons"` // the first of them, behind the lines between and every gain
	Sites         []string      `json:"sites"`
	Start         Bought        `json:"start"` // the plan as written
	Steps         []Bought      `json:"steps"`
	All           []InAll       `json:"in_all"`
	Reached       int           `json:"target_reached_after"` // steps; -1 if it is not
	Before        trials.Mean   `json:"net_a_year_before"`
	After         trials.Mean   `json:"net_a_year_after"` // what is bought by the year included, less its grant
	More          trials.Mean   `json:"-"`                // what is left a year with the list than before, in the same seasons
	Hands         money.Hands   `json:"-"`                // whose people the cutters are
	GrantShare    float64       `json:"grant_share"`      // of what is bought
	Hub           decide.HubAir `json:"hub"`              // at the plan after the last step
	Ends          Ending        `json:"ends_because"`
	Tried         int           `json:"site_plans_tried"` // site-plans run through the search seasons
	NoPrice       []Lever       `json:"no_price"`         // not tried: no price is stated
	Best          *sim.Region   `json:"-"`                // the plan after the last step
	Marginal      []Marginal    `json:"next"`
	Dropped       []Dropped     `json:"dropped"`           // found by the search, of no use in the fresh seasons
	Stopped       bool          `json:"stopped,omitempty"` // interrupted: the list is what was found so far
}

// Marginal is what one more step of a lever would do at the answer, on the search seasons.
type Marginal struct {
	Site  string       `json:"site"` // "" for the region
	What  Quantity     `json:"what"`
	Cost  money.Amount `json:"cost"`
	Gain  float64      `json:"gain_share"` // of the target, fraction of the search seasons
	Fewer float64      `json:"fewer_missing_stalks"`
}

// LinesHaveFewer tells whether the lines between the first and the last are of fewer seasons.
func (a *Answer) LinesHaveFewer() bool { return 0 < a.LineSeasons && a.LineSeasons < a.Seasons }
