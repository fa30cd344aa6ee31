package answers

import (
	"context"

	"drystalk/sim"
	"drystalk/sim/decide"
)

// SeasonOptions are the options of [Season].
type SeasonOptions struct {
	Number int `default:"0" least:"0" help:"Season of an answer with the same seed, from 0."`
}

// DefaultSeason returns the options of [Season] as they are unless stated.
func DefaultSeason() SeasonOptions { return defaults[SeasonOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q SeasonOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q SeasonOptions) Command(c Case) string { return commandOf("season", &c, &q) }

// SeasonAnswer is one season of a plan, day by day, and why its months were missed.
type SeasonAnswer struct {
	Asked  Asked
	Why    []decide.MonthWhy
	Ledger sim.RegionLedger
}

// Season lives through one season of the plan as written, and undoes one thing after another
// in it to say why months were missed.
func Season(ctx context.Context, c Case, q SeasonOptions) (SeasonAnswer, error) {
	a := SeasonAnswer{Asked: Asked{c, q.Command(c)}}
	err := q.Validate()
	if err == nil {
		err = ctx.Err()
	}
	if err != nil {
		return a, err
	}
	if a.Ledger, err = c.Setup.DailyLedger(q.Number); err != nil {
		return a, err
	}
	a.Why, err = decide.Why(c.Setup, q.Number)
	return a, err
}
