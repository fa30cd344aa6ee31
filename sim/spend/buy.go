package spend

import (
	"context"

	"drystalk/sim/decide"
	"drystalk/sim/money"
)

// Buy answers the question. What is bought is chosen on the search seasons, one bundle after
// another by its gain for its money, then improved by exchanges. Steps whose removal costs
// nothing are dropped, those that are left stand in order of their gain for their money, and the
// list and its odds are judged on fresh seasons, on which no step of it does harm. An interrupted
// search answers with the list so far; with decide.ErrNothingKnown if there is none.
func Buy(ctx context.Context, q Question) (Answer, error) {
	b := buying{search: newSearch(q)}
	b.judging = b.search.judging()
	return b.answer(ctx)
}

// BuyEach answers the question for several budgets, each larger than the one before, which share
// what has lived through the seasons. Each answer is that of Buy for its budget, unless more money
// found a list that is worse than that of the budget before by more than chance: then that list
// is the answer, and says so. An interrupted search answers for the budgets so far.
func BuyEach(ctx context.Context, q Question, budgets []money.Amount) ([]Answer, error) {
	b := buying{search: newSearch(q)}
	b.judging = b.search.judging()
	var out []Answer
	var before design // of the list of the budget before
	for _, budget := range budgets {
		b.search = b.search.of(budget)
		b.judging.search = b.search.whole()
		a, err := b.answer(ctx)
		if err != nil && (len(out) == 0 || ctx.Err() == nil) {
			return nil, err
		}
		if err != nil {
			break
		}
		if n := len(out); n > 0 && b.worse(b.judging.last, before) {
			a = asSmaller(out[n-1], budget)
		} else {
			before = b.judging.last
		}
		out = append(out, a)
		if a.Stopped {
			break
		}
	}
	return out, nil
}

// buying is a search with its judgement.
type buying struct {
	*search
	judging *judging
}

// answer finds a list and judges it.
func (b *buying) answer(ctx context.Context) (Answer, error) {
	out := b.blank()
	d := b.start()
	if err := b.runAll(ctx, []design{d}); err != nil {
		return out, decide.NothingKnown(err)
	}
	found, err := b.find(ctx, d)
	if err != nil && ctx.Err() == nil {
		return out, err
	}
	out.Stopped = err != nil
	out.Ends, out.Tried = found.ends, b.tried()
	if err == nil {
		if out.Marginal, err = b.marginal(ctx, found.last()); err != nil && ctx.Err() == nil {
			return out, err
		}
	}
	return out, b.judging.judge(context.WithoutCancel(ctx), &out, found.path)
}

// find finds a list, step by step. An interrupted one is returned as far as it is, with an error.
func (b *buying) find(ctx context.Context, start design) (list, error) {
	if b.Cheapest {
		return b.cheapest(ctx, start)
	}
	found, err := b.choose(ctx, start)
	if err != nil {
		return found, err
	}
	thinned, err := b.thinned(ctx, found.last())
	if err == nil {
		found.path = thinned
	}
	return found, err
}

// worse tells whether a design is worse than another in the fresh seasons, through which both have
// lived, by more than chance: in the seasons that reach the target, or in what is missing where
// they are no more.
func (b *buying) worse(d, than design) bool {
	now, before := b.judging.stands[d.String()], b.judging.stands[than.String()]
	gain := decide.PairedGain(now.reached, before.reached)
	return gain.High < 0 || gain.Mean <= 0 && fewer(now.short, before.short).High < 0
}

// asSmaller returns the answer for a smaller budget as that for a larger one.
func asSmaller(a Answer, budget money.Amount) Answer {
	if a.Smaller == 0 {
		a.Smaller = a.Budget
	}
	a.Budget = budget
	return a
}

func (s *search) blank() Answer {
	out := Answer{Budget: s.Budget, Cheapest: s.Cheapest, Goal: s.Goal, SearchSeasons: s.SearchSeasons, Seasons: s.Seasons, LineSeasons: s.Seasons, Reached: -1}
	for i := range s.Setup.Region.Sites {
		out.Sites = append(out.Sites, s.Setup.Region.Sites[i].Name)
	}
	_, out.NoPrice = leversOf(s.Prices)
	return out
}
