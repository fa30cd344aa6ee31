package scenarios

import (
	"drystalk/sim/goal"
	"drystalk/tongue"
)

// goal returns the target that is asked, with what it needs and nothing else.
func (s *Scenario) goal() goal.Goal {
	g := goal.Goal{Kind: s.Goal.Kind, Currency: s.Currency, Tolerance: s.Region.Contract.Tolerance}
	switch g.Kind {
	case goal.ShareDelivered:
		g.Share = s.Goal.Share
	case goal.PenaltyAtMost:
		g.MostPenalty, g.Prices = s.Goal.MostPenalty, &s.Money
	case goal.IncomeAtLeast:
		g.LeastIncome, g.Prices = s.Goal.LeastIncome, &s.Money
	}
	return g
}

// target checks that the target has what it goes by. Nothing stands in for an amount of money.
func (r *reader) target(s *Scenario, contract *node) {
	g := &s.Goal
	if contract == nil || len(r.faults) > 0 {
		return
	}
	r.idleKeys(g, contract)
	if !g.Kind.NeedsPrices() {
		return
	}
	key, amount := "contract.target_most_penalty", g.MostPenalty
	if g.Kind == goal.IncomeAtLeast {
		key, amount = "contract.target_least_income", g.LeastIncome
	}
	switch asked := g.Kind.String(); {
	case !s.HasMoney:
		r.fault(lineOfKey(contract, "target"), "contract.target", tongue.Plainf("%s without prices", asked), tongue.Say("with a group of keys money that states prices, or one of worst_month, all_months, share_delivered"))
	case amount < 0:
		r.fault(lineOfKey(contract, "target"), key, tongue.Say("none stated"), tongue.Plainf("with the target %s an amount from 0", asked))
	case g.Kind == goal.PenaltyAtMost && s.Money.PerMissing == 0:
		r.fault(lineOfKey(contract, "target"), "money.penalty_per_missing_stalk", "0", tongue.Plainf("above 0 with the target %s: no season would ever pay any", asked))
	}
}

// lineOfKey returns the line of a key of a group, that of the group where it is not stated.
func lineOfKey(n *node, key string) int {
	if v := n.get(key); v != nil {
		return v.line
	}
	return n.line
}

// targetKeys are the keys that only one target goes by.
var targetKeys = map[string]goal.Kind{
	"target_delivered_fraction": goal.ShareDelivered, "target_most_penalty": goal.PenaltyAtMost, "target_least_income": goal.IncomeAtLeast,
}

// idleKeys warns of a key that says something other than its default to a target that is not asked.
func (r *reader) idleKeys(g *goal.Goal, contract *node) {
	for _, f := range contractFields {
		kind, known := targetKeys[f.key]
		if v := contract.get(f.key); known && v != nil && kind != g.Kind && v.text != f.missing {
			r.warn(v.line, "contract."+f.key, "%s does nothing: contract.target is %s", v.text, g.Kind)
		}
	}
}
