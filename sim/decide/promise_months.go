package decide

import (
	"context"
	"time"

	"drystalk/sim/trials"
)

// raised is a contract month on its way to what it could take alone.
type raised struct {
	month     time.Month
	low, high float64 // times the flat number: reached, and not
	reached   []raisedTo
}

// raisedTo is a try that looked as if it reached the target.
type raisedTo struct {
	part float64
	t    *attempt
}

// raisings is how often what lies between one and three times the flat number is halved: to a
// sixteenth of it.
const raisings = 5

// monthByMonth raises each contract month alone as far as the share of fresh seasons reaches
// the target. That is not proven: it shows where there is room. The months live side by side.
func (q *PromiseQuestion) monthByMonth(ctx context.Context, p *Promise) error {
	if p.Flat == 0 {
		return nil
	}
	n := min(q.Seasons, 2*q.SearchSeasons)
	p.MonthSeasons = n
	var months []*raised
	for _, span := range q.Setup.Region.Calendar.Months() {
		if q.Setup.Region.Contract.StalksByMonth[span.Month] > 0 {
			months = append(months, &raised{month: span.Month, low: 1, high: 3})
		}
	}
	for range raisings {
		if err := q.raise(ctx, p.Flat, n, months); err != nil {
			return err
		}
	}
	if err := q.confirm(ctx, months, n); err != nil {
		return err
	}
	flat, err := q.flatOdds(ctx, p.Flat, n)
	if err != nil {
		return err
	}
	for _, m := range months {
		part, odds := 1.0, flat
		if t := m.last(); t != nil {
			part, odds = m.reached[len(m.reached)-1].part, t.odds
		}
		p.Months = append(p.Months, Promised{m.month.String(), int(part * float64(p.Flat)), odds})
	}
	return nil
}

// raise tries each month half way between what it reached and what it did not, the others flat.
func (q *PromiseQuestion) raise(ctx context.Context, flat, n int, months []*raised) error {
	list := make([]*attempt, len(months))
	for k, m := range months {
		q.tell(Raising, m.month)
		r := q.flat(flat)
		r.Contract.StalksByMonth[m.month] = int((m.low + m.high) / 2 * float64(flat))
		list[k] = q.try(r, 0, n)
	}
	reached, err := q.reach(ctx, list, q.Target)
	if err != nil {
		return err
	}
	for k, m := range months {
		if mid := (m.low + m.high) / 2; reached[k] {
			m.low, m.reached = mid, append(m.reached, raisedTo{mid, list[k]})
		} else {
			m.high = mid
		}
	}
	return nil
}

// confirm lives through n seasons of what each month reached last and takes it off where it does not
// hold: what looked so early may not. It ends when all hold or nothing is left.
func (q *PromiseQuestion) confirm(ctx context.Context, months []*raised, n int) error {
	for {
		var list []*attempt
		for _, m := range months {
			if t := m.last(); t != nil && t.lived == n && t.odds.Share < q.Target {
				m.reached = m.reached[:len(m.reached)-1]
			}
			if t := m.last(); t != nil && t.lived < n {
				list = append(list, t)
			}
		}
		if len(list) == 0 {
			return nil
		}
		if err := q.bring(ctx, list, n); err != nil {
			return err
		}
	}
}

// last returns what a month reached last; nil where it reached nothing.
func (m *raised) last() *attempt {
	if len(m.reached) == 0 {
		return nil
	}
	return m.reached[len(m.reached)-1].t
}

// flatOdds returns the odds of what is promised in the first n seasons, which are known from its
// proof.
func (q *PromiseQuestion) flatOdds(ctx context.Context, flat, n int) (trials.Odds, error) {
	if q.held == nil || q.held.table == nil {
		t := q.try(q.flat(flat), 0, n)
		err := q.bring(ctx, []*attempt{t}, n)
		return t.odds, err
	}
	r, err := JudgeFor(q.Goal, q.held.region, q.held.table.Before(n), PlanOf(q.held.region))
	return r.Odds, err
}
