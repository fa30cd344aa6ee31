package decide

import (
	"context"
	"math"
)

// prove goes up from safely below the limit until a step is not proven, or down where the
// first already fails: then each step below is tested at half the error, because the order is
// no longer fixed. Steps far below the limit are proven in few of the seasons; the one that is
// promised and the one that fails are lived through in all.
func (q *PromiseQuestion) prove(ctx context.Context, p *Promise, most int, about float64) error {
	at := max(1, math.Floor((0.93*about)/promiseStep)) * promiseStep // a contract of nothing is none
	holds, ok, err := q.test(ctx, most, at)
	if err != nil {
		return err
	}
	if !ok {
		return q.proveDown(ctx, p, most, at, holds)
	}
	for {
		next, ok, err := q.test(ctx, most, at+promiseStep)
		if err != nil {
			return err
		}
		if !ok {
			if err := q.keep(ctx, p, at, holds); err != nil {
				return err
			}
			return p.fails(ctx, next)
		}
		at, holds = at+promiseStep, next
	}
}

// proveDown goes down from a step that failed until one holds.
func (q *PromiseQuestion) proveDown(ctx context.Context, p *Promise, most int, at float64, failed *attempt) error {
	for f := at - 2*promiseStep; f > 0; f -= 2 * promiseStep {
		t, ok, err := q.test(ctx, most, f)
		if err != nil {
			return err
		}
		if ok {
			if err := q.keep(ctx, p, f, t); err != nil {
				return err
			}
			break
		}
		failed = t
		if f < at/3 {
			f /= 2
		}
	}
	return p.fails(ctx, failed)
}

// test tries to prove a part of the largest month.
func (q *PromiseQuestion) test(ctx context.Context, most int, f float64) (*attempt, bool, error) {
	q.tell(Proving, 0)
	stalks := max(1, int(math.Round(f*float64(most))))
	t, err := q.try(q.flat(stalks), 0, q.Seasons)
	if err != nil {
		return t, false, err
	}
	t.stalks = stalks
	ok, err := t.proven(ctx, q.Target)
	return t, ok, err
}

// keep writes down the part that is promised.
func (q *PromiseQuestion) keep(ctx context.Context, p *Promise, f float64, t *attempt) error {
	r, err := t.all(ctx)
	if err != nil {
		return err
	}
	p.Flat, p.Part, p.Worst, p.Odds, q.held = t.stalks, f, r.WorstMonth(), r.Odds, t
	return nil
}

// fails writes down what is not proven.
func (p *Promise) fails(ctx context.Context, t *attempt) error {
	r, err := t.all(ctx)
	p.Next, p.NextOdds = t.stalks, r.Odds
	return err
}
