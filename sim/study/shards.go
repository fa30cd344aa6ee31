package study

import (
	"context"
	"fmt"
	"slices"
	"sync"

	"drystalk/sim/tidy"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Shard is a piece of a study: some trials of one point.
type Shard struct {
	Key   string
	Point int // from 0
	First int // trial
	Last  int
}

// Trials returns how many trials a shard has.
func (s Shard) Trials() int { return s.Last - s.First + 1 }

// Plan returns the shards of the study, sorted by key. It depends on nothing but the study.
func (s *Study) Plan() ([]Shard, error) {
	k, err := s.prepared()
	if err != nil {
		return nil, err
	}
	var out []Shard
	n := s.rows(k) * s.Seasons
	for point := range s.Points {
		for first := 0; first < n; first += s.Block {
			last := min(first+s.Block, n) - 1
			out = append(out, Shard{fmt.Sprintf("point%04d-%08d-%08d", point+1, first, last), point, first, last})
		}
	}
	return out, nil
}

// Run lives through a shard and returns its rows, one for each trial. It may be called from several
// goroutines at once.
func (s *Study) Run(ctx context.Context, shard Shard) (*tidy.Table, error) {
	k, err := s.prepared()
	if err != nil {
		return nil, err
	}
	p, r := &s.Points[shard.Point], k.points[shard.Point]
	r.once.Do(func() { r.c, r.err = p.Plan.Setup(s.Seed) })
	if r.err != nil {
		return nil, tongue.Errorf("point %s: %w", p.Name, r.err)
	}
	set := r.c.Setup
	set.Workers, set.Design = 1, s.designOf(k, &r.c.Setup)
	table, err := set.Table(ctx, shard.First, shard.Trials(), trials.Only(r.c.Plan()), nil)
	if err != nil {
		return nil, tongue.Errorf("point %s: %w", p.Name, err)
	}
	lived := tidy.Plan{
		Region: set.Region, Table: table, Dryers: r.c.Plan(), Ranges: set.Knowledge.Ranges, Goal: r.c.Goal, Prices: r.c.Prices, Currency: r.c.Currency,
		Number: func(i int) int { return (shard.First + i) % s.Seasons },
	}
	out := &tidy.Table{Columns: k.columns}
	err = lived.Each(tidy.Season, func(i int, cells []tidy.Cell) error {
		out.Rows = append(out.Rows, slices.Concat(s.before(p, shard.First+i), cells))
		return nil
	})
	return out, err
}

// before returns the cells of a row that come before those of its season.
func (s *Study) before(p *Point, trial int) []tidy.Cell {
	row := append([]tidy.Cell{tidy.Text(p.Name)}, p.Levels...)
	row = append(row, tidy.Count(trial))
	if s.Design != nil {
		row = append(row, tidy.Count(trial/s.Seasons))
	}
	return row
}

// Store keeps the rows of shards. All its methods may be called from several goroutines at once.
type Store interface {
	// Keys returns the keys of the shards that are there, in any order.
	Keys(ctx context.Context) ([]string, error)
	// Put keeps the rows of a shard unless some are there already. Equal rows are fine;
	// ErrDiffers is returned where the digests differ.
	Put(ctx context.Context, key string, rows *tidy.Table) error
	// Get returns the rows of a shard.
	Get(ctx context.Context, key string) (*tidy.Table, error)
}

// ErrDiffers is returned where a shard was worked out twice and came out differently: the two
// programs are not the same, or a machine is broken.
var ErrDiffers = tongue.Fault("the same seasons were lived through twice and came out differently: another build of the program, or a broken machine")

// Missing returns the shards of the plan that a store does not hold.
func (s *Study) Missing(ctx context.Context, store Store) ([]Shard, error) {
	plan, err := s.Plan()
	if err != nil {
		return nil, err
	}
	keys, err := store.Keys(ctx)
	if err != nil {
		return nil, err
	}
	there := make(map[string]bool, len(keys))
	for _, key := range keys {
		there[key] = true
	}
	return slices.DeleteFunc(plan, func(shard Shard) bool { return there[shard.Key] }), nil
}

// Share returns the n-th of so many shares of some shards, n from 1: every so-manieth shard, so
// that each share has its part of every point.
func Share(shards []Shard, n, of int) (out []Shard) {
	for i := n - 1; i < len(shards); i += of {
		out = append(out, shards[i])
	}
	return out
}

// Fill lives through shards and keeps what comes out, so many side by side, until all are done, one
// fails or the context ends. tell, if any, is told of each shard that is kept, one at a time.
func (s *Study) Fill(ctx context.Context, store Store, shards []Shard, workers int, tell func(Shard)) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan Shard)
	var mu sync.Mutex
	var wg sync.WaitGroup
	for range max(1, min(workers, len(shards))) {
		wg.Go(func() {
			for shard := range next {
				rows, err := s.Run(ctx, shard)
				if err == nil {
					err = store.Put(ctx, shard.Key, rows)
				}
				if err != nil {
					stop(err)
					return
				}
				mu.Lock()
				if tell != nil {
					tell(shard)
				}
				mu.Unlock()
			}
		})
	}
	for _, shard := range shards {
		select {
		case next <- shard:
			continue
		case <-ctx.Done():
		}
		break
	}
	close(next)
	wg.Wait()
	return context.Cause(ctx)
}

// Memory is a store that keeps shards in memory; its zero value is empty.
type Memory struct {
	mu   sync.Mutex
	rows map[string]*tidy.Table
}

// Keys returns the keys of the shards that are there.
func (m *Memory) Keys(context.Context) (keys []string, err error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for key := range m.rows {
		keys = append(keys, key)
	}
	return keys, nil
}

// Put keeps the rows of a shard.
func (m *Memory) Put(_ context.Context, key string, rows *tidy.Table) error {
	m.mu.Lock()
	defer m.mu.Unlock()
	if old := m.rows[key]; old != nil {
		if old.Digest() != rows.Digest() {
			return fmt.Errorf("%s: %w", key, ErrDiffers)
		}
		return nil
	}
	if m.rows == nil {
		m.rows = map[string]*tidy.Table{}
	}
	m.rows[key] = rows
	return nil
}

// Get returns the rows of a shard.
func (m *Memory) Get(_ context.Context, key string) (*tidy.Table, error) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if rows := m.rows[key]; rows != nil {
		return rows, nil
	}
	return nil, tongue.Errorf("%s: no such shard", key)
}
