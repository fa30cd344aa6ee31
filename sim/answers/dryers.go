package answers

import (
	"context"
	"errors"
	"fmt"

	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// DryersOptions are the options of [Dryers].
type DryersOptions struct {
	Numbers
	Through
	Anyway
	Search int `default:"100" least:"30" help:"Seasons that choose the placements, apart from those behind the figures."`
	Limit  int `default:"0" least:"0" most:"1000000" help:"Seasons up to which the number is sought to be proven: looked at after a twentieth, a tenth, a fifth, a half and all of --seasons, then each time after twice as many; 0 for twice --seasons, and four times where one number alone is undecided."`
	Short  int `default:"40" least:"0" help:"Seasons with a missed month that are lived through again to see what was short."`

	FreePlacement bool `help:"Dryers that stand already may be taken away or stand elsewhere; otherwise they are kept."`
}

// DefaultDryers returns the options of [Dryers] as they are unless stated.
func DefaultDryers() DryersOptions { return defaults[DryersOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q DryersOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q DryersOptions) Command(c Case) string {
	return commandOf("dryers", &c, &q)
}

// limit returns the seasons up to which the number is sought to be proven.
func (q *DryersOptions) limit() int {
	if q.Limit == 0 {
		return min(2*q.Seasons, 1_000_000)
	}
	return max(q.Limit, q.Seasons)
}

// raised returns what the limit is raised to while one number alone is undecided: a stated limit
// stays.
func (q *DryersOptions) raised() int {
	if q.Limit == 0 {
		return min(4*q.Seasons, 1_000_000)
	}
	return q.limit()
}

// DryersAnswer is how many dryers the region needs, and where.
type DryersAnswer struct {
	Asked  Asked               `json:"-"`
	Answer decide.Answer       `json:"answer"`
	Years  *decide.YearsResult `json:"real_years,omitempty"`
	Rival  *ways.Rival         `json:"free_rival,omitempty"` // nil where nothing is to be bought, or no better way of working was found
	Tables []*trials.Table     `json:"-"`                    // the seasons behind each plan of the answer; none of an interrupted run
}

// mostWith is how many sites a command line changes that stands in a sentence.
const mostWith = 2

// CompareCommand returns the command line that compares a plan of the answer, by its place in it, with the
// plan as written; "" where it would be long or no command line says it.
func (a DryersAnswer) CompareCommand(at int) string {
	c := &a.Asked.Case
	words := append([]string{"drystalk", "compare", fileWord(c.File)}, waysWords(c)...)
	stand, changed := c.Plan(), 0
	for k, n := range a.Answer.Plans[at].PerSite {
		if n != stand[k] {
			words = append(words, flag("with", fmt.Sprintf("%s: dryers=%d", a.Answer.Sites[k], n))...)
			changed++
		}
	}
	if changed == 0 || changed > mostWith || len(c.Changes) > 0 {
		return ""
	}
	return line(words)
}

// Dryers finds how many dryers the region needs, and where. An interrupted run answers with
// what it knows and says in Answer.Stopped how far it came; the real years are left out then.
func Dryers(ctx context.Context, c Case, q DryersOptions, tell Progress) (DryersAnswer, error) {
	a := DryersAnswer{Asked: Asked{c, q.Command(c)}}
	q.named(&a.Asked.Case)
	err := q.Validate()
	if err != nil {
		return a, err
	}
	if err := q.Anyway.check(&c); err != nil {
		return a, err
	}
	set := trialsOf(&c, &q.Numbers)
	a.Answer, err = decide.Dryers(ctx, decide.Question{
		Setup: set, MaxDryers: c.MaxDryers, Free: q.FreePlacement, Target: c.Target, Goal: c.Goal, SearchSeasons: q.Search, Seasons: q.Seasons, Limit: q.limit(), Raised: q.raised(),
		ShortSeasons: q.Short, Prices: c.Prices, Progress: func(done, of int) { tell.tell(Doing{}, done, of) },
		Lived: func(_ []int, t *trials.Table) { a.Tables = append(a.Tables, t) },
	})
	if errors.Is(err, trials.ErrHauling) || errors.Is(err, trials.ErrMoving) {
		return a, Fault{What: err.Error()}
	}
	if err != nil || a.Answer.Stopped != "" {
		return a, err
	}
	at := a.Answer.Needed
	if at < 0 {
		at = a.Answer.Best()
	}
	if a.Years, err = q.years(ctx, &c, set, a.Answer.Plans[at]); err != nil {
		return a, err
	}
	a.Rival, err = dryersRival(ctx, &c, &q, &a.Answer, a.Tables)
	return a, err
}
