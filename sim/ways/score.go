package ways

import (
	"context"

	"drystalk/sim/decide"
	"drystalk/sim/money"
)

// score is how a design does in some seasons.
type score struct {
	met     int     // seasons that reach the goal
	reached []bool  // which
	missing float64 // stalks, of all months and seasons
	income  float64 // of those whose money it is, of all seasons, units of the currency; 0 without prices
}

// better tells whether a is better than b: by the seasons that reach the goal, among equals by the
// stalks missing.
func better(a, b score) bool {
	if a.met != b.met {
		return a.met > b.met
	}
	return a.missing < b.missing
}

// richer returns what orders by income among the scores that reach the goal as often as now.
func richer(now score) func(a, b score) bool {
	return func(a, b score) bool {
		if keepA, keepB := a.met >= now.met, b.met >= now.met; keepA != keepB {
			return keepA
		}
		return a.income > b.income
	}
}

// seasons is a stretch of seasons with the scores of the designs that have lived through it.
type stretch struct {
	of       *search
	first, n int
	scores   map[string]score
	designs  map[string]design
}

func (s *search) stretch(first, n int) *stretch {
	return &stretch{s, first, n, map[string]score{}, map[string]design{}}
}

// need lives with those of some designs that have not yet been lived with.
func (t *stretch) need(ctx context.Context, designs ...design) error {
	var open []design
	for _, d := range designs {
		if _, known := t.designs[d.key()]; !known {
			open = append(open, d)
			t.designs[d.key()] = d
		}
	}
	got, err := t.of.space.live(ctx, t.first, t.n, open, nil)
	if err != nil {
		return err
	}
	for k, d := range open {
		sc, err := t.of.scoreOf(got[k])
		if err != nil {
			return err
		}
		t.scores[d.key()] = sc
	}
	t.of.tell(len(open) * t.n)
	return nil
}

// score returns the score of a design that has been lived with.
func (t *stretch) score(d design) score { return t.scores[d.key()] }

// scoreOf adds up how a design does.
func (s *search) scoreOf(l lived) (score, error) {
	reached, missing, err := decide.BySeason(s.Goal, l.region, l.table, s.space.plan)
	if err != nil {
		return score{}, err
	}
	out := score{reached: reached}
	for i := range reached {
		if out.missing += missing[i]; reached[i] {
			out.met++
		}
	}
	if s.Prices == nil {
		return out, nil
	}
	income, err := incomes(s.Prices, l, s.space.plan)
	for _, x := range income {
		out.income += x
	}
	return out, err
}

// incomes returns what those have of each season whose money it is, units of the currency: members
// what is left over and their pay, groups that hire their hands what is left over.
func incomes(p *money.Prices, l lived, plan []int) ([]float64, error) {
	y, err := money.NewPlay(l.region, l.table, plan)
	if err != nil {
		return nil, err
	}
	out := make([]float64, l.table.Seasons)
	for i := range out {
		year := y.Year(p, i)
		sum := year.Net()
		for _, part := range money.AllParts() {
			if p.ToMembers(part) {
				sum -= year[part]
			}
		}
		out[i] = sum.Units()
	}
	return out, nil
}
