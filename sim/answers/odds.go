package answers

import (
	"context"

	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// OddsOptions are the options of [Odds].
type OddsOptions struct {
	Numbers
	Through
	Short int `default:"40" least:"0" help:"Seasons with a missed month that are lived through again to see what was short."`
}

// DefaultOdds returns the options of [Odds] as they are unless stated.
func DefaultOdds() OddsOptions { return defaults[OddsOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q OddsOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q OddsOptions) Command(c Case) string { return commandOf("odds", &c, &q) }

// OddsAnswer is how the plan as written does.
type OddsAnswer struct {
	Asked  Asked               `json:"-"`
	Sites  []string            `json:"sites"`
	Target float64             `json:"target_share"`
	Goal   goal.Goal           `json:"target"`
	Plan   decide.PlanResult   `json:"plan"`
	Hub    decide.HubAir       `json:"hub"`
	Short  decide.Shortage     `json:"short"`
	Money  *decide.Earns       `json:"money,omitempty"`
	Years  *decide.YearsResult `json:"real_years,omitempty"`
	Table  *trials.Table       `json:"-"` // the seasons behind the answer; nil where nobody reads them (Setup.Together)
}

// Odds judges the plan as written: the odds of each month, what is short where months are
// missed, and what the plan earns.
func Odds(ctx context.Context, c Case, q OddsOptions, tell Progress) (OddsAnswer, error) {
	a := OddsAnswer{Asked: Asked{c, q.Command(c)}, Sites: c.Sites(), Target: c.Target, Goal: c.Goal}
	q.named(&a.Asked.Case)
	if err := q.Validate(); err != nil {
		return a, err
	}
	set, plan := trialsOf(&c, &q.Numbers), c.Plan()
	set.Together = set.Together && c.Goal.Kind != goal.IncomeAtLeast // which goes by site
	course, err := decide.CourseOf(ctx, decide.CourseQuestion{Setup: set, Prices: c.Prices, Seasons: q.Seasons, Tell: tell.seasons(q.Seasons)})
	if err != nil {
		return a, err
	}
	table := course.Table
	a.Hub, a.Money = course.Hub, course.Earns(c.Prices, plan)
	if !set.Together {
		a.Table = table
	}
	if a.Plan, err = decide.JudgeFor(c.Goal, set.Region, table, plan); err != nil {
		return a, err
	}
	if a.Years, err = q.years(ctx, &c, set, a.Plan); err != nil {
		return a, err
	}
	if a.Short, err = decide.WhatIsShort(ctx, set, decide.Missing{Goal: c.Goal, Region: set.Region, Table: table, Plan: plan, Most: q.Short}); err != nil {
		return a, err
	}
	return a, nil
}
