package spend

import (
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// search looks for designs. Rows of a site under one set of steps are run once and kept.
type search struct {
	Question
	levers []lever
	rows   map[string][][]int32 // accepted by season and month, by key of a site's steps
	tried  int                  // site-plans run
	first  int                  // season
	n      int                  // seasons

	// live runs site-plans through the seasons and returns what each brought to the hub, good
	// stalks by season and month.
	live func(ctx context.Context, runs []siteRun) ([][][]int32, error)
}

func newSearch(q Question) *search {
	levers, _ := leversOf(q.Prices)
	s := &search{Question: q, levers: levers, rows: map[string][][]int32{}, first: decide.FirstSearchSeason, n: q.SearchSeasons}
	s.live = s.simulate
	return s
}

// fresh is the same search on fresh seasons.
func (s *search) fresh() *search {
	f := newSearch(s.Question)
	f.first, f.n = 0, s.Seasons
	if s.Progress != nil {
		f.Progress = func(_ decide.Stage, done, of int) { s.Progress(decide.Judging, done, of) }
	}
	return f
}

// key names the rows of a site: its steps and those of the region, which move its share of the
// stock.
//
// Known: a site's share of contract and stock goes by the cutters of all sites, so cutters
// bought at one site move the rows of the others a little, and their rows are kept as they
// were run first.
func (s *search) key(d design, site int) string { return fmt.Sprint(site, d[site], d[len(d)-1]) }

// siteRun is a site of a design that is to be run.
type siteRun struct {
	key    string
	site   int
	region *sim.Region
}

// atOnce is how many site-plans share one drawing of the seasons.
const atOnce = 60

// runAll runs the site-plans of designs that have not been run yet.
func (s *search) runAll(ctx context.Context, designs []design) error {
	runs := s.missing(designs)
	for from := 0; from < len(runs); from += atOnce {
		if s.Progress != nil {
			s.Progress(decide.Searching, from, len(runs))
		}
		part := runs[from:min(len(runs), from+atOnce)]
		rows, err := s.live(ctx, part)
		if err != nil {
			return err
		}
		for k, run := range part {
			s.rows[run.key] = rows[k]
		}
		s.tried += len(part)
	}
	return nil
}

// missing lists the site-plans of designs that have not been run yet, each once.
func (s *search) missing(designs []design) []siteRun {
	var runs []siteRun
	seen := map[string]bool{}
	for _, d := range designs {
		for site := range s.Setup.Region.Sites {
			k := s.key(d, site)
			if _, known := s.rows[k]; !known && !seen[k] {
				seen[k] = true
				runs = append(runs, siteRun{k, site, s.region(d)})
			}
		}
	}
	return runs
}

// simulate lets site-plans live through the seasons.
func (s *search) simulate(ctx context.Context, runs []siteRun) ([][][]int32, error) {
	variants := make([]trials.Variant, len(runs))
	for v, j := range runs {
		levels := make([][]int, len(j.region.Sites))
		levels[j.site] = []int{j.region.Sites[j.site].Dryers}
		variants[v] = trials.Variant{Region: j.region, Levels: levels}
	}
	tables, err := s.Setup.Tables(ctx, s.first, s.n, variants, nil)
	if err != nil {
		return nil, err
	}
	out := make([][][]int32, len(runs))
	for v, j := range runs {
		for i := range s.n {
			out[v] = append(out[v], slices.Clone(tables[v].Accepted(j.site, j.region.Sites[j.site].Dryers, i)))
		}
	}
	return out, nil
}

// played is what a design did in the seasons.
type played struct {
	score decide.Score
	short []float64 // stalks missing, by season
	met   [][]bool  // by month and season
}

// play serves the contract under a design, all of whose rows must have been run.
func (s *search) play(d design) played {
	g := s.gate(d)
	n := len(g.Months)
	months, sums, none := make([]sim.HubMonth, n), make([]int, n), make([]int, n)
	p := played{met: make([][]bool, n)}
	tally := decide.NewTally(g.Asked)
	rows := make([][][]int32, len(s.Setup.Region.Sites))
	for site := range rows {
		rows[site] = s.rows[s.key(d, site)]
	}
	before := 0
	for i := range s.n {
		clear(sums)
		for site := range rows {
			for k, accepted := range rows[site][i] {
				sums[k] += int(accepted)
			}
		}
		g.Serve(months, sums, none)
		tally.Add(months)
		p.short = append(p.short, float64(tally.Shortfall-before))
		before = tally.Shortfall
		for k := range months {
			p.met[k] = append(p.met[k], months[k].Met)
		}
	}
	p.score = tally.Score()
	return p
}

// score returns how good a design is: the same order of better as for placements of dryers.
func (s *search) score(d design) decide.Score { return s.play(d).score }

// gate returns the rules of the hub with a stock bought ahead.
func (s *search) gate(d design) sim.Gate {
	hub := s.start()
	hub[len(hub)-1] = d[len(d)-1]
	return s.region(hub).Gate()
}

// helps tells whether a design leaves fewer stalks missing than now, by more than the standard
// error of that difference: a small step needs no proof of its own, for the list is judged on
// fresh seasons.
func (s *search) helps(d design, now []float64) bool {
	fewer := s.play(d).short
	for i := range fewer {
		fewer[i] = now[i] - fewer[i]
	}
	mean, sd := stat.MeanStdDev(fewer, nil)
	return mean > sd/math.Sqrt(float64(len(fewer)))
}
