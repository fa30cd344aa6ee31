// Package study lives through many seasons of many plans for researchers: a plan of shards that
// depends on nothing but the study, each worked out by itself, anywhere and in any order, and the
// results put together in the order of the plan. Whoever keeps the shards, in memory, a folder or
// elsewhere, is a Store; what is done is what lies there.
//
//	s := &study.Study{Seed: 1, Seasons: 1000, Points: []study.Point{{Name: "today", Plan: scenario}}}
//	todo, err := s.Missing(ctx, store)              // of the plan: what the store does not hold
//	err = s.Fill(ctx, store, todo, workers, nil)
//	result, err := s.Merge(ctx, store, nil)         // its digest, and a summary with intervals
//
// The same study gives the same digest however it was cut, stopped and taken up again.
package study

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	"drystalk/sim/plans"
	"drystalk/sim/sensitivity"
	"drystalk/sim/tidy"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Plan is what a point of a study lives by; a scenarios.Scenario is one.
type Plan interface {
	// WithoutWeather returns the plan at once, for what can be asked before any season is run.
	WithoutWeather(seed uint64) plans.Case
	// Setup returns the plan ready to live through seasons, which may take a moment.
	Setup(seed uint64) (plans.Case, error)
}

// Point is one plan among those of a study.
type Point struct {
	Name   string
	Levels []tidy.Cell // of each factor of the study
	Plan   Plan
}

// Study is what is to be lived through. Its fields must not be changed once it has been used.
type Study struct {
	Name     string
	Seed     uint64        // of all chance
	Seasons  int           // of each point; with a design, of each of its rows
	Block    int           // seasons of a shard; 0 for DefaultBlock
	Factors  []tidy.Column // that make the points; none needed
	Points   []Point
	Sampling sensitivity.Sampling // how the knowledge is drawn; "" for each season by itself, as every command does
	Design   *Design              // nil: the seasons themselves draw the knowledge

	once  sync.Once
	known *known
	fault error
}

// Limits of a study.
const (
	DefaultBlock = 50
	MostBlock    = 1000
	MostPoints   = 9999
	MostTrials   = trials.MostSeasons // of one point
)

// known is what is worked out of a study once.
type known struct {
	hash    string
	columns []tidy.Column
	ranks   [][]float64 // by row of the design, or by season where they are sampled
	inputs  []int       // of a design: their places among the ranges
	points  []*ready

	labels   int   // columns that only name a row
	outcomes []int // columns that a design explains
}

// ready is a point whose weather is built once it is needed.
type ready struct {
	once sync.Once
	c    plans.Case
	err  error
}

// prepared checks the study and works out once what all else needs. Errors say which field holds
// what, and what is allowed.
func (s *Study) prepared() (*known, error) {
	s.once.Do(func() { s.known, s.fault = s.prepare() })
	return s.known, s.fault
}

// Check tells what is wrong with the study.
func (s *Study) Check() error {
	_, err := s.prepared()
	return err
}

func (s *Study) prepare() (*known, error) {
	k := &known{}
	if s.Block == 0 {
		s.Block = DefaultBlock
	}
	switch {
	case len(s.Points) == 0 || len(s.Points) > MostPoints:
		return nil, Fault{"points", tongue.Plainf("%d points", len(s.Points)), tongue.Plainf("1 to %d", MostPoints)}
	case s.Seasons < 1 || s.Seasons > MostTrials:
		return nil, Fault{"seasons", fmt.Sprint(s.Seasons), tongue.Plainf("1 to %d", MostTrials)}
	case s.Block < 1 || s.Block > MostBlock:
		return nil, Fault{"block_seasons", fmt.Sprint(s.Block), tongue.Plainf("1 to %d", MostBlock)}
	}
	if err := s.draw(k); err != nil {
		return nil, err
	}
	if err := s.checkPoints(k); err != nil {
		return nil, err
	}
	if err := s.findOutcomes(k); err != nil {
		return nil, err
	}
	if n := s.rows(k); n > MostTrials/s.Seasons {
		return nil, Fault{"design", tongue.Plainf("%d rows with %d seasons each", n, s.Seasons), tongue.Plainf("%d seasons in all", MostTrials)}
	}
	k.hash = s.hashOf(k)
	return k, nil
}

// checkPoints checks that all points have one name each, a level of every factor and the same
// columns.
func (s *Study) checkPoints(k *known) error {
	seen := map[string]bool{}
	for i := range s.Points {
		p := &s.Points[i]
		switch {
		case p.Name == "" || seen[p.Name]:
			return Fault{"points", tongue.Plainf("the name %q of point %d", p.Name, i+1), tongue.Say("one that no other point has")}
		case p.Plan == nil:
			return tongue.Errorf("point %s: found no plan", p.Name)
		case len(p.Levels) != len(s.Factors):
			return tongue.Errorf("point %s: found %d levels, allowed: one for each of the %d factors", p.Name, len(p.Levels), len(s.Factors))
		}
		seen[p.Name] = true
		columns := s.columnsOf(p)
		if k.columns == nil {
			k.columns = columns
		}
		if at := slices.IndexFunc(columns, func(c tidy.Column) bool { return !slices.Contains(k.columns, c) }); at >= 0 || len(columns) != len(k.columns) {
			return Fault{
				"points", tongue.Plainf("%q and %q, which cannot stand in one table as their columns differ%s", s.Points[0].Name, p.Name, differing(columns, at)),
				tongue.Say("season, currency, prices and target of one kind at all points"),
			}
		}
		k.points = append(k.points, &ready{})
	}
	for i, c := range k.columns {
		if slices.ContainsFunc(k.columns[:i], func(o tidy.Column) bool { return o.Name == c.Name }) {
			return Fault{"factors", tongue.Plainf("that the column %s comes twice", c.Name), tongue.Say("a factor of another name")}
		}
	}
	return nil
}

func differing(columns []tidy.Column, at int) string {
	if at < 0 {
		return ""
	}
	return " (" + columns[at].Name + ")"
}

// columnsOf returns the columns of the rows of a point.
func (s *Study) columnsOf(p *Point) []tidy.Column {
	c := p.Plan.WithoutWeather(s.Seed)
	out := []tidy.Column{{Name: "point", Kind: tidy.Word, Meaning: "name of the point of the study"}}
	out = append(out, s.Factors...)
	out = append(out, tidy.Column{Name: "trial", Kind: tidy.Whole, Meaning: "number of the row among those of its point, from 0"})
	if s.Design != nil {
		out = append(out, tidy.Column{Name: "design_row", Kind: tidy.Whole, Meaning: "row of the design, from 0: its seasons share what the design varies"})
	}
	lived := tidy.Plan{Region: c.Setup.Region, Ranges: c.Setup.Knowledge.Ranges, Goal: c.Goal, Prices: c.Prices, Currency: c.Currency}
	return append(out, lived.Columns(tidy.Season)...)
}

// hashOf returns the fingerprint of all that the rows of the study depend on but the program.
func (s *Study) hashOf(k *known) string {
	type point struct {
		Name, Scenario string
		Levels         []string
	}
	about := struct {
		Schema               int
		Seed                 uint64
		Seasons, Block       int
		Sampling             string
		Design               *Design
		Points               []point
		Factors, ColumnNames []string
	}{Schema: 1, Seed: s.Seed, Seasons: s.Seasons, Block: s.Block, Sampling: string(s.Sampling), Design: s.Design}
	for i := range s.Points {
		p := point{Name: s.Points[i].Name, Scenario: s.Points[i].Plan.WithoutWeather(s.Seed).Hash}
		for _, cell := range s.Points[i].Levels {
			p.Levels = append(p.Levels, fmt.Sprint(cell.Text, cell.Number))
		}
		about.Points = append(about.Points, p)
	}
	for _, f := range s.Factors {
		about.Factors = append(about.Factors, f.Name)
	}
	for _, c := range k.columns {
		about.ColumnNames = append(about.ColumnNames, c.Name+" "+c.Unit)
	}
	text, err := json.Marshal(about)
	if err != nil {
		panic("study: " + err.Error()) // strings and whole numbers always marshal
	}
	sum := sha256.Sum256(text)
	return hex.EncodeToString(sum[:8])
}

// Hash returns the fingerprint of all that the rows of the study depend on but the program: two
// studies with one hash have the same shards.
func (s *Study) Hash() (string, error) {
	k, err := s.prepared()
	if err != nil {
		return "", err
	}
	return k.hash, nil
}

// Columns returns the columns of the rows of the study.
func (s *Study) Columns() ([]tidy.Column, error) {
	k, err := s.prepared()
	if err != nil {
		return nil, err
	}
	return k.columns, nil
}
