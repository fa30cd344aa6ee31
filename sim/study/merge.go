package study

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// Result is what a whole study comes to.
type Result struct {
	Digest  string // of the rows of all shards: equal studies have equal digests
	Trials  int
	Summary []Line
}

// Incomplete is the error of a study of which shards are missing.
type Incomplete struct {
	Missing []Shard
	Of      int
}

// Error says how many shards are missing, and some of them.
func (e *Incomplete) Error() string {
	var keys []string
	for _, shard := range e.Missing[:min(3, len(e.Missing))] {
		keys = append(keys, shard.Key)
	}
	more := ""
	if len(e.Missing) > len(keys) {
		more = ", ..."
	}
	return tongue.Plainf("incomplete: %d of %d shards are missing (%s%s)", len(e.Missing), e.Of, strings.Join(keys, ", "), more)
}

// Merge puts the shards of a store together in the order of the plan, and gives the rows of each to
// do, if any. Where shards are missing it returns an *Incomplete and nothing else.
func (s *Study) Merge(ctx context.Context, store Store, do func(Shard, *tidy.Table) error) (*Result, error) {
	plan, err := s.Plan()
	if err != nil {
		return nil, err
	}
	missing, err := s.Missing(ctx, store)
	if err != nil {
		return nil, err
	}
	if len(missing) > 0 {
		return nil, &Incomplete{missing, len(plan)}
	}
	h, out, sum := sha256.New(), &Result{}, s.newSummary()
	for _, shard := range plan {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		rows, err := store.Get(ctx, shard.Key)
		if err != nil {
			return nil, err
		}
		if len(rows.Rows) != shard.Trials() {
			return nil, tongue.Errorf("%s: found %d rows, allowed: %d", shard.Key, len(rows.Rows), shard.Trials())
		}
		fmt.Fprintf(h, "%s %s\n", shard.Key, rows.Digest())
		out.Trials += len(rows.Rows)
		sum.add(shard, rows)
		if do != nil {
			if err := do(shard, rows); err != nil {
				return nil, err
			}
		}
	}
	out.Digest = hex.EncodeToString(h.Sum(nil)[:16])
	out.Summary, err = sum.lines()
	return out, err
}
