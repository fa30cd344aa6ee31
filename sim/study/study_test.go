package study_test

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/knowledge"
	"drystalk/sim/sensitivity"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
)

var ctx = context.Background()

// two returns a study of two points: the demo of one cooperative, and with a second dryer.
func two(t testing.TB, seasons int) *study.Study {
	today, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	more, err := today.With([]string{"Heron Point: dryers=2"})
	require.NoError(t, err)
	return &study.Study{
		Name: "two", Seed: 1, Seasons: seasons, Block: 10,
		Factors: []tidy.Column{{Name: "dryers_at_heron_point", Kind: tidy.Real}},
		Points: []study.Point{
			{Name: "one", Levels: []tidy.Cell{tidy.Number(1)}, Plan: today},
			{Name: "two", Levels: []tidy.Cell{tidy.Number(2)}, Plan: more},
		},
	}
}

// done fills a store with a study and returns what it comes to.
func done(t testing.TB, s *study.Study, store study.Store, workers int) *study.Result {
	t.Helper()
	todo, err := s.Missing(ctx, store)
	require.NoError(t, err)
	require.NoError(t, s.Fill(ctx, store, todo, workers, nil))
	result, err := s.Merge(ctx, store, nil)
	require.NoError(t, err)
	return result
}

// The plan covers every trial of every point once, in the order of its keys.
func TestPlanCoversTheStudy(t *testing.T) {
	plan, err := two(t, 50).Plan()
	require.NoError(t, err)
	require.Len(t, plan, 10)
	next := map[int]int{}
	for i, shard := range plan {
		if i > 0 {
			assert.Less(t, plan[i-1].Key, shard.Key)
		}
		assert.Equal(t, next[shard.Point], shard.First)
		next[shard.Point] = shard.Last + 1
	}
	assert.Equal(t, map[int]int{0: 50, 1: 50}, next)
	var again int
	for n := 1; n <= 4; n++ {
		again += len(study.Share(plan, n, 4))
	}
	assert.Equal(t, len(plan), again, "shares are all shards")
}

// The digest depends neither on the number of workers nor on the order of shards nor on what was
// done by whom; another seed gives another.
func TestSameDigestHoweverItIsRun(t *testing.T) {
	first := done(t, two(t, 25), &study.Memory{}, 1)
	assert.Equal(t, 50, first.Trials)
	assert.Equal(t, first, done(t, two(t, 25), &study.Memory{}, 3))

	s, store := two(t, 25), &study.Memory{}
	plan, err := s.Plan()
	require.NoError(t, err)
	rand.New(rand.NewPCG(1, 2)).Shuffle(len(plan), func(i, j int) { plan[i], plan[j] = plan[j], plan[i] })
	require.NoError(t, s.Fill(ctx, store, plan[:4], 2, nil))
	_, err = s.Merge(ctx, store, nil)
	var incomplete *study.Incomplete
	require.ErrorAs(t, err, &incomplete)
	assert.Len(t, incomplete.Missing, 2)
	assert.ErrorContains(t, err, "incomplete: 2 of 6 shards are missing")
	assert.Equal(t, first, done(t, two(t, 25), store, 2))

	other := two(t, 25)
	other.Seed = 2
	assert.NotEqual(t, first.Digest, done(t, other, &study.Memory{}, 2).Digest)
}

// A shard that is there already is kept; another one in its place is an error.
func TestPutIfAbsent(t *testing.T) {
	s, store := two(t, 10), &study.Memory{}
	plan, err := s.Plan()
	require.NoError(t, err)
	rows, err := s.Run(ctx, plan[0])
	require.NoError(t, err)
	require.NoError(t, rows.Check())
	require.NoError(t, store.Put(ctx, plan[0].Key, rows))
	require.NoError(t, store.Put(ctx, plan[0].Key, rows))
	changed := &tidy.Table{Columns: rows.Columns, Rows: append([][]tidy.Cell{append([]tidy.Cell{}, rows.Rows[0]...)}, rows.Rows[1:]...)}
	last := len(changed.Columns) - 1
	changed.Rows[0][last] = tidy.Number(math.Nextafter(changed.Rows[0][last].Number, 0))
	require.ErrorIs(t, store.Put(ctx, plan[0].Key, changed), study.ErrDiffers)
}

// What the summary says of a plan is what drystalk odds says of it with the same seed and number of
// seasons: shares to the last digit, means to rounding.
func TestSummaryIsThatOfOdds(t *testing.T) {
	s := two(t, 30)
	result := done(t, s, &study.Memory{}, 2)
	c, err := s.Points[1].Plan.Setup(1)
	require.NoError(t, err)
	options := answers.DefaultOdds()
	options.Seasons, options.Short = 30, 0
	a, err := answers.Odds(ctx, c, options, nil)
	require.NoError(t, err)
	lines := map[string]study.Line{}
	for _, line := range result.Summary {
		if line.Point == 1 {
			lines[line.Of] = line
		}
	}
	require.NotEmpty(t, a.Plan.Months)
	for _, m := range a.Plan.Months {
		line := lines["met_"+map[string]string{"April": "apr", "May": "may", "June": "jun", "July": "jul", "August": "aug", "September": "sep", "October": "oct"}[m.Name]]
		assert.Equal(t, []float64{m.Odds.Share, m.Odds.Low, m.Odds.High}, []float64{line.Estimate, line.Low, line.High}, m.Name)
		assert.Equal(t, 30, line.N)
	}
	assert.Equal(t, a.Plan.AllMonths.Share, lines["all_months_met"].Estimate)
	require.NotNil(t, a.Money)
	net := lines["money_net"]
	assert.InEpsilon(t, a.Money.Net.Mean, net.Estimate, 1e-12)
	assert.InEpsilon(t, a.Money.Net.Low, net.Low, 1e-12)
	assert.InEpsilon(t, a.Money.Net.High, net.High, 1e-12)
	assert.Equal(t, a.Asked.Case.Currency, net.Unit)
}

// A design lives through the same seasons in all rows and varies its inputs alone; indices and
// effects are there for every input.
func TestDesigns(t *testing.T) {
	for _, method := range []study.Method{study.Screening, study.Indices} {
		s := two(t, 3)
		s.Points = s.Points[:1]
		s.Design = &study.Design{Method: method, Inputs: []knowledge.Key{knowledge.OutputFactor, knowledge.MouldFactor}, Rows: 4, Sampling: sensitivity.Halton, Outcomes: []string{"delivered_stalks", "all_months_met"}}
		store := &study.Memory{}
		result := done(t, s, store, 2)
		rows := map[study.Method]int{study.Screening: 12, study.Indices: 16}[method]
		assert.Equal(t, 3*rows, result.Trials)
		at := map[string]int{}
		columns, err := s.Columns()
		require.NoError(t, err)
		for c, col := range columns {
			at[col.Name] = c
		}
		first := map[int][]tidy.Cell{} // by season
		plan, err := s.Plan()
		require.NoError(t, err)
		for _, shard := range plan {
			table, err := store.Get(ctx, shard.Key)
			require.NoError(t, err)
			for _, row := range table.Rows {
				season := int(row[at["season"]].Number)
				if first[season] == nil {
					first[season] = row
				}
				for _, same := range []string{"rain_mm", "drawn_skin_factor", "drawn_living_h"} {
					assert.Equal(t, first[season][at[same]], row[at[same]], "%s of season %d", same, season)
				}
			}
		}
		assert.Len(t, first, 3)
		count := 0
		for _, line := range result.Summary {
			if line.Method != "mean over the rows of the design, no interval" {
				count++
			}
		}
		assert.Equal(t, 2*2*map[study.Method]int{study.Screening: 3, study.Indices: 2}[method], count)
	}
}

// Sampled knowledge fills its ranges evenly: each n-th of the ranks once.
func TestLatinHypercubeOfSeasons(t *testing.T) {
	s := two(t, 20)
	s.Block = 20
	s.Points, s.Sampling = s.Points[:1], sensitivity.LatinHypercube
	plan, err := s.Plan()
	require.NoError(t, err)
	rows, err := s.Run(ctx, plan[0])
	require.NoError(t, err)
	seen := map[int]bool{}
	for c, col := range rows.Columns {
		if col.Name == "drawn_store_exchange_rank" { // a rank is drawn evenly from 0 to 1
			for _, row := range rows.Rows {
				seen[int(row[c].Number*20)] = true
			}
		}
	}
	assert.Len(t, seen, 20)
}

// The first shard that fails ends the work, and its error is told.
func TestFillStopsAtAnError(t *testing.T) {
	broken := errors.New("no room")
	s := two(t, 100)
	plan, err := s.Plan()
	require.NoError(t, err)
	store := &failing{after: 2, with: broken}
	require.ErrorIs(t, s.Fill(ctx, store, plan, 2, nil), broken)
	keys, err := store.Keys(ctx)
	require.NoError(t, err)
	assert.Len(t, keys, 2)
	stopped, stop := context.WithCancel(ctx)
	stop()
	require.ErrorIs(t, s.Fill(stopped, store, plan, 2, nil), context.Canceled)
}

// failing is a store that takes some shards and no more.
type failing struct {
	study.Memory
	mu    sync.Mutex
	after int
	with  error
}

func (f *failing) Put(ctx context.Context, key string, rows *tidy.Table) error {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.after--; f.after < 0 {
		return f.with
	}
	return f.Memory.Put(ctx, key, rows)
}

// What is wrong with a study is said before anything is run.
func TestFaults(t *testing.T) {
	for want, change := range map[string]func(*study.Study){
		"points":         func(s *study.Study) { s.Points = nil },
		"seasons":        func(s *study.Study) { s.Seasons = 0 },
		"block_seasons":  func(s *study.Study) { s.Block = 1001 },
		"the name \"\"":  func(s *study.Study) { s.Points[1].Name = "" },
		"the name \"one": func(s *study.Study) { s.Points[1].Name = "one" },
		"levels":         func(s *study.Study) { s.Points[1].Levels = nil },
		"sampling":       func(s *study.Study) { s.Sampling = "dice" },
		"outcomes": func(s *study.Study) {
			s.Design = &study.Design{Method: study.Screening, Rows: 3, Inputs: []knowledge.Key{knowledge.MouldFactor}}
		},
		"drawn_skin_fac": func(s *study.Study) {
			s.Design = &study.Design{Method: study.Screening, Rows: 3, Inputs: []knowledge.Key{knowledge.MouldFactor}, Outcomes: []string{"drawn_skin_factor"}}
		},
		"inputs": func(s *study.Study) {
			s.Design = &study.Design{Method: study.Screening, Rows: 3, Inputs: []knowledge.Key{"luck"}, Outcomes: []string{"rain_mm"}}
		},
		"method": func(s *study.Study) {
			s.Design = &study.Design{Rows: 3, Inputs: []knowledge.Key{knowledge.MouldFactor}, Outcomes: []string{"rain_mm"}}
		},
		"columns differ": func(s *study.Study) {
			today, err := scenarios.Demo(scenarios.OneCooperative)
			require.NoError(t, err)
			s.Points[1].Plan, err = today.With([]string{"contract: target=all_months"})
			require.NoError(t, err)
		},
	} {
		s := two(t, 20)
		change(s)
		assert.ErrorContains(t, s.Check(), want)
	}
}
