package page

import (
	"context"
	"slices"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// The questions a run answers. Each but askSecond, which is a comparison, has the name of its
// command.
const (
	askCompare = "compare"
	askDryers  = "dryers"
	askSecond  = "second" // a dryer more at a site
	askPromise = "promise"
	askSpend   = "spend"
	askWays    = "ways"
	askSeason  = "season"
)

// asks are the questions of the form.
var asks = map[string]bool{askCompare: true, askDryers: true, askSecond: true, askPromise: true, askSpend: true, askWays: true, askSeason: true}

// others are what a form asks for besides.
var others = map[string]bool{askSave: true, askKeep: true, askStated: true, askStation: true, askRecord: true, askAside: true, askAlone: true, askBeside: true}

// errUnknown is returned for what no button of the form asks.
var errUnknown error = tongue.Fault("found a question that the page does not ask, allowed: one of its buttons")

// check tells what is wrong with the options of a question besides what each says by itself. Of an
// option that is known to be wrong it says nothing more.
func (q *questions) check(ask string, known []fault) []fault {
	var err error
	switch {
	case ask == askSpend && len(q.spend.Budget) == 0:
		err = answers.Fault{Option: "budget", What: tongue.Say("found nothing, allowed: more than 0, such as 5000")}
	case ask == askSpend:
		err = q.spend.Validate()
	case !asks[ask] && !others[ask]:
		err = errUnknown
	}
	if err == nil {
		return nil
	}
	wrong := faultOf(err)
	if wrong.Where != "" && slices.ContainsFunc(known, func(f fault) bool { return f.Where == wrong.Where }) {
		return nil
	}
	return []fault{wrong}
}

// writing writes an answer down that has been found, with numbers as the plan says.
type writing func() (*result, error)

// answer asks the question of a run as the command of its name does: the same function answers, and
// the same writer writes the answer down, by what is returned.
func (s *Server) answer(ctx context.Context, p *plan, r *run) (writing, error) {
	switch r.ask {
	case askCompare, askSecond:
		return s.compare(ctx, r)
	case askFit:
		return s.fit(ctx, p, r)
	}
	c, err := r.plan.Setup(r.asked.seed)
	if err != nil {
		return nil, err
	}
	tell, q := s.told(r), &r.asked
	switch r.ask {
	case askDryers:
		return written(s, s.writer.Dryers, seasonsOf(document.DryersSeasons))(answers.Dryers(ctx, c, q.dryers, tell))
	case askPromise:
		return written(s, s.writer.Promise, nil)(answers.Promise(ctx, c, q.promise, tell))
	case askSpend:
		return s.spend(ctx, c, r)
	case askWays:
		return written(s, s.writer.Ways, func(a *answers.WaysAnswer) taken { return taken{files: document.Ways(r.plan, *a)} })(answers.Ways(ctx, c, q.ways, tell))
	case askSeason:
		return s.season(ctx, c, q.season)
	}
	return nil, errUnknown
}

// written returns what takes an answer and returns what writes it down and makes its files, with what
// else there is to take away; nil for nothing.
func written[A any](s *Server, write func(A) (document.Document, error), more func(*A) taken) func(A, error) (writing, error) {
	return func(a A, err error) (writing, error) {
		if err != nil {
			return nil, err
		}
		return func() (*result, error) {
			d, err := write(a)
			if err != nil {
				return nil, err
			}
			out := &result{charts: chartsOf(d.Report)}
			if err := out.finish(d, s.clock()); err != nil || more == nil {
				return out, err
			}
			return out, out.take(more(&a))
		}, nil
	}
}

// and returns a writing that goes on with what was written.
func (w writing) and(more func(*result) error) writing {
	return func() (*result, error) {
		out, err := w()
		if err != nil {
			return nil, err
		}
		return out, more(out)
	}
}

// seasonsOf returns what takes the table of seasons from an answer.
func seasonsOf[A any](behind func(*A) document.Seasons) func(*A) taken {
	return func(a *A) taken { return taken{seasons: behind(a)} }
}

// spend says what a budget buys.
func (s *Server) spend(ctx context.Context, c answers.Case, r *run) (writing, error) {
	a, err := answers.Spend(ctx, c, r.asked.spend, s.told(r))
	bought := func(a *answers.SpendAnswer) taken { return taken{files: document.Bought(r.plan, *a)} }
	write, err := written(s, s.writer.Spend, bought)(a, err)
	if err != nil {
		return nil, err
	}
	return write.and(func(out *result) error {
		out.stopped = a.Spending.Stopped
		return nil
	}), nil
}

// compare runs today and the plan through the same seasons; where they are the same, one.
func (s *Server) compare(ctx context.Context, r *run) (writing, error) {
	pair, err := scenarios.Pair(r.today, r.plan, r.asked.seed)
	if err != nil {
		return nil, err
	}
	if len(pair.Differences) == 0 {
		return s.odds(ctx, pair.Second, r)
	}
	a, err := answers.Compare(ctx, pair, r.asked.compare, s.told(r))
	write, err := written(s, s.writer.Compare, seasonsOf(document.CompareSeasons))(a, err)
	if err != nil {
		return nil, err
	}
	write = write.and(func(out *result) error {
		out.comparison = &a.Comparison
		return nil
	})
	if r.beside == nil {
		return write, nil
	}
	beside, err := s.compareBeside(ctx, r, document.ComparedOf(a))
	if err != nil || beside == nil {
		return write, err
	}
	return write.and(beside), nil
}

// odds runs the plan alone.
func (s *Server) odds(ctx context.Context, c answers.Case, r *run) (writing, error) {
	return written(s, s.writer.Odds, seasonsOf(document.OddsSeasons))(answers.Odds(ctx, c, r.asked.odds, s.told(r)))
}

// season lives through one season and shows its months and what the dryers did.
func (s *Server) season(ctx context.Context, c answers.Case, q answers.SeasonOptions) (writing, error) {
	a, err := answers.Season(ctx, c, q)
	return written(s, func(a answers.SeasonAnswer) (document.Document, error) { return s.monthByMonth(c, a) }, nil)(a, err)
}

// monthByMonth writes a season down, with all of it in one picture, its months and what the dryers did.
func (s *Server) monthByMonth(c answers.Case, a answers.SeasonAnswer) (document.Document, error) {
	d, err := s.writer.Season(a)
	if err != nil {
		return d, err
	}
	region := c.Setup.Region
	days := report.Days{To: region.Calendar.Days - 1, Date: region.Calendar.Date}
	glance, err := report.GlanceChart(tongue.Sayf("%s, season %d", region.Name, a.Ledger.Season), a.Ledger.Sites, days, report.PickupsOf(region))
	if err != nil {
		return d, err
	}
	use, err := report.UseChart(region.Name, a.Ledger.Sites, days)
	if err != nil {
		return d, err
	}
	months := report.Section{Title: s.text.SeasonMonths.String(), Charts: []report.Chart{glance, use}, Tables: []report.Table{report.HubTable(a.Ledger.Hub)}}
	for _, site := range a.Ledger.Sites {
		months.Tables = append(months.Tables, report.SiteTable(site, a.Ledger.Hub))
	}
	d.Report.Sections = append(d.Report.Sections, months)
	return d, nil
}
