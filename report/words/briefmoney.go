package words

import (
	"cmp"
	"math"
	"slices"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// noMoney is said where a scenario states no prices.
const noMoney tongue.Text = "No prices are stated, so that this paper says nothing of money: ask for offers before anything is decided."

// payer says who pays for what is bought.
func payer(f money.Funding) string {
	switch {
	case f.Grant == 0:
		return tongue.Say("All of it is paid by the group at whose site it stands.")
	case f.Grant >= f.Cost:
		return tongue.Say("A grant is paid by whoever gives it and never paid back.")
	}
	return tongue.Say("A grant is paid by whoever gives it and never paid back; the rest is paid by the group at whose site it stands.")
}

// mostParts is how many parts of the money of a year are named.
const mostParts = 5

// yearOf says what a year of a plan brings and takes, the largest parts by name.
func yearOf(e decide.Earns, currency string) []string {
	var brings, takes []decide.Part
	for _, p := range e.Parts {
		switch {
		case p.Year.Mean >= 0.5:
			brings = append(brings, p)
		case p.Year.Mean <= -0.5:
			takes = append(takes, p)
		}
	}
	out := []string{tongue.Sayf("An average year brings %s.", partsOf(brings, "%s for %s", "%s for all else", currency))}
	if len(takes) > 0 {
		out = append(out, tongue.Sayf("It spends %s.", partsOf(takes, "%s on %s", "%s on all else", currency)))
	}
	return append(out, tongue.Sayf("%s: %s a year.", Upper(LeftOver(e.Cutters)), Amounts(e.Net, currency)))
}

// partsOf lists parts of money, the largest first, each for what it comes or on what it is spent.
func partsOf(list []decide.Part, each, others tongue.Text, currency string) string {
	if len(list) == 0 {
		return tongue.Say("no money")
	}
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b decide.Part) int {
		return cmp.Compare(math.Abs(b.Year.Mean), math.Abs(a.Year.Mean))
	})
	var said []string
	rest := 0.0
	for k, p := range list {
		if k >= mostParts {
			rest += math.Abs(p.Year.Mean)
			continue
		}
		said = append(said, tongue.Sayf(string(each), Money(math.Abs(p.Year.Mean), currency), partInShort(p.Of)))
	}
	if rest >= 0.5 {
		said = append(said, tongue.Sayf(string(others), Money(rest, currency)))
	}
	return And(said)
}

// partInShort names a part of the money in a list of a sentence.
func partInShort(key string) string {
	if key == decide.DryersByTheYear {
		return tongue.Say("the year's share of the dryers")
	}
	return Part(key)
}
