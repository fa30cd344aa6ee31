package answers

import (
	"context"
	"errors"

	"drystalk/sim/decide"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// WaysOptions are the options of [Ways].
type WaysOptions struct {
	Numbers
	Anyway
	Search    int     `default:"60" least:"30" most:"1000000" help:"Seasons that find ways, apart from those behind the figures."`
	Judge     int     `default:"200" least:"30" most:"1000000" help:"Other seasons that choose among the best ways found."`
	Earn      bool    `help:"Look for what earns most while the goal is reached no less often, instead of what reaches it most often."`
	NightWork bool    `help:"Those who tend the fire have agreed to work between 22 and 6 h: try such shifts too."`
	Climates  int     `default:"0" least:"0" most:"20" help:"Other climates of the WMO table, with the most similar rainy months, in which what is found is tried."`
	MostC     float64 `default:"0" least:"0" most:"95" help:"Highest temperature that the dryer may be set to, C; by default no hotter than now."`
}

// DefaultWays returns the options of [Ways] as they are unless stated.
func DefaultWays() WaysOptions { return defaults[WaysOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q WaysOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers.
func (q WaysOptions) Command(c Case) string { return commandOf("ways", &c, &q) }

// WaysAnswer is which better ways of working there are.
type WaysAnswer struct {
	Asked Asked       `json:"-"`
	Ways  ways.Answer `json:"ways"`
}

// Ways looks for better ways of working with what there is, and judges them on fresh seasons. Where
// no way can be changed, or income is asked for and no prices are stated, that is a [Fault].
func Ways(ctx context.Context, c Case, q WaysOptions, tell Progress) (WaysAnswer, error) {
	a := WaysAnswer{Asked: Asked{c, q.Command(c)}}
	err := q.Validate()
	if err != nil {
		return a, err
	}
	if err := q.Anyway.check(&c); err != nil {
		return a, err
	}
	if q.Earn && c.Prices == nil {
		return a, Fault{"earn", tongue.Say("found a plan without prices, allowed: one with a group of keys money (drystalk check --explain names them)")}
	}
	climates, err := q.elsewhere(&c)
	if err != nil {
		return a, err
	}
	a.Ways, err = ways.Find(ctx, ways.Question{
		Setup: trialsOf(&c, &q.Numbers), Goal: c.Goal, Target: c.Target, Prices: c.Prices, Allowed: ways.Allowed{Night: q.NightWork, MostC: q.MostC},
		SearchSeasons: q.Search, JudgeSeasons: q.Judge, Seasons: q.Seasons, ByIncome: q.Earn, Climates: climates,
		Progress: func(stage decide.Stage, done int) { tell.tell(Doing{Stage: stage}, done, 0) },
	})
	if errors.Is(err, ways.ErrNothingToTry) {
		return a, Fault{What: c.Name + ": " + err.Error()}
	}
	return a, err
}

// elsewhere returns the other climates that were asked for.
func (q *WaysOptions) elsewhere(c *Case) ([]ways.Climate, error) {
	if q.Climates == 0 {
		return nil, nil
	}
	if c.Elsewhere == nil {
		return nil, Fault{"climates", tongue.Say("found a plan that was not made of a scenario, allowed: one of a file or demo")}
	}
	list, err := c.Elsewhere(q.Climates)
	if err != nil {
		return nil, Fault{"climates", err.Error()}
	}
	var out []ways.Climate
	for _, e := range list {
		out = append(out, ways.Climate(e))
	}
	return out, nil
}
