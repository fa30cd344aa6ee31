package spend

import (
	"cmp"
	"context"
	"slices"

	"drystalk/sim/money"
)

// look goes over what may be bought next, again and again while a list grows. What a bundle was
// worth when it was last run says how soon it is run again: most are worth less and less as the
// list grows, so that those that were worth little need not be run after every purchase.
type look struct {
	*search
	bundles []bundle
	may     func(t design) bool // be bought
	seen    []seen              // by bundle
	begun   bool                // all has been looked at once
}

// seen is what a look knows of a bundle.
type seen struct {
	run   bool    // since something was bought at its place
	now   bool    // since the last purchase
	worth float64 // when last run; 0 where it did not help
}

// lookFor returns a look for some bundles, as far as what comes of them may be bought.
func (s *search) lookFor(bundles []bundle, may func(t design) bool) *look {
	return &look{search: s, bundles: bundles, may: may, seen: make([]seen, len(bundles))}
}

// next returns the design with the bundle of the best worth, if any helps.
func (k *look) next(ctx context.Context, d design) (design, bool, error) {
	for i := range k.seen {
		k.seen[i].now = false
	}
	n := newest{look: k, d: d, played: k.play(d), spent: k.cost(d), best: -1, grown: 1}
	for _, which := range []func() []int{n.singles, n.chains, n.most, n.rivals} {
		for some := which(); len(some) > 0; some = which() {
			if err := n.run(ctx, some); err != nil {
				return nil, false, err
			}
		}
	}
	k.begun = true
	if n.best < 0 {
		return nil, false, nil
	}
	b := &k.bundles[n.best]
	for i := range k.bundles { // what is bought changes what else is worth at its place
		k.seen[i].run = k.seen[i].run && k.bundles[i].at != b.at
	}
	return b.in(d), true, nil
}

// newest is a look at what may be bought after one design.
type newest struct {
	*look
	d      design
	played played
	spent  money.Amount
	best   int     // bundle; -1 for none that helps
	again  bool    // what was worth most has been run again
	grown  float64 // the most by which one is worth more now than when it was last run, at least 1
}

// run lets designs with bundles live through the seasons and keeps what they are worth.
func (n *newest) run(ctx context.Context, which []int) error {
	tries := n.with(which)
	if err := n.fetch(ctx, append(n.with(n.likely(which)), tries...)); err != nil {
		return err
	}
	if err := n.runAll(ctx, tries); err != nil {
		return err
	}
	for k, i := range which {
		worth := 0.0
		if n.helps(tries[k], n.played) {
			worth = max(0, n.worth(n.played.score, n.score(tries[k]), n.cost(tries[k])-n.spent))
		}
		if before := n.seen[i]; before.run && before.worth > 0 {
			n.grown = max(n.grown, worth/before.worth)
		}
		n.seen[i] = seen{true, true, worth}
		if top := n.top(); worth > top || worth == top && worth > 0 && i < n.best {
			n.best = i
		}
	}
	return nil
}

// with lists the designs with some of the bundles.
func (n *newest) with(which []int) []design {
	var out []design
	for _, i := range which {
		out = append(out, n.bundles[i].in(n.d))
	}
	return out
}

// likely lists bundles that are likely to be run next: they live through the seasons beside those that are
// run now, which costs less than a drawing of the seasons of their own. It changes no list.
func (n *newest) likely(now []int) []int {
	var out []int
	if n.top() > 0 {
		out = n.open(n.rival)
	} else if n.begun && !n.again {
		out = n.firstOf(func(i int) bool { return n.seen[i].worth > 0 && !slices.Contains(now, i) })
	}
	return slices.DeleteFunc(out, func(i int) bool { return slices.Contains(now, i) })
}

// rival tells whether a bundle would be worth more than the best is now, had it grown as much as the one
// that grew most.
func (n *newest) rival(i int) bool { return n.seen[i].worth*n.grown > n.top() }

// top is what the best bundle so far is worth, 0 without one.
func (n *newest) top() float64 {
	if n.best < 0 {
		return 0
	}
	return n.seen[n.best].worth
}

// open lists the bundles that may be bought, have not been run after this design and are as
// wanted.
func (n *newest) open(wanted func(i int) bool) []int {
	var out []int
	for i := range n.bundles {
		if !n.seen[i].now && wanted(i) && n.may(n.bundles[i].in(n.d)) {
			out = append(out, i)
		}
	}
	return out
}

// singles are the steps alone that have not been run since something was bought at their place,
// and those whose rows are known.
func (n *newest) singles() []int {
	return n.open(func(i int) bool {
		return len(n.bundles[i].levers) == 1 && (!n.seen[i].run || n.unasked(n.bundles[i].in(n.d)) == 0)
	})
}

// chains are, in the first look and where nothing else helps, the bundles of several levers that
// have not been run since something was bought at their place, and of which no step helps alone,
// or one of two: where each helps alone they are bought one by one. All levers together are run in
// any case.
func (n *newest) chains() []int {
	if n.begun && n.best >= 0 {
		return nil
	}
	alone := map[step]bool{}
	for i := range n.bundles {
		if b := &n.bundles[i]; len(b.levers) == 1 {
			alone[step{b.at, b.levers[0]}] = n.seen[i].worth > 0
		}
	}
	return n.open(func(i int) bool {
		b := &n.bundles[i]
		helping := 0
		for _, l := range b.levers {
			if alone[step{b.at, l}] {
				helping++
			}
		}
		few := helping == 0 || helping == 1 && len(b.levers) == 2 || len(b.levers) > bundleLevers
		return len(b.levers) > 1 && !n.seen[i].run && few
	})
}

// againAtLeast is how many bundles are run again after every purchase, besides the steps alone of
// its place. Assumption.
const againAtLeast = 2

// most are the bundles that were worth most when they were last run.
func (n *newest) most() []int {
	if n.again {
		return nil
	}
	n.again = true
	return n.firstOf(func(i int) bool { return n.seen[i].worth > 0 })
}

// rivals are the bundles that would be worth more than the best is now, had they grown as much as
// the one that grew most. Where nothing helps they are all steps alone, what was worth something,
// and then all chains.
func (n *newest) rivals() []int {
	if n.top() > 0 {
		return n.firstOf(n.rival)
	}
	if some := n.open(func(i int) bool { return len(n.bundles[i].levers) == 1 || n.seen[i].worth > 0 }); len(some) > 0 {
		return some
	}
	return n.chains()
}

// firstOf returns the first few of the open bundles that are as wanted, by what they were worth.
func (n *newest) firstOf(wanted func(i int) bool) []int {
	out := n.open(wanted)
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(n.seen[b].worth, n.seen[a].worth) })
	return out[:min(len(out), againAtLeast)]
}
