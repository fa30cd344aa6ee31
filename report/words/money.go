package words

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// of writes a number with its currency: a sign before it, "T$ 12,340", and a word after it,
// "12,340 coins".
func of(number, currency string) string {
	if first, _ := utf8.DecodeRuneInString(currency); unicode.IsLower(first) {
		if number == "1" {
			currency = strings.TrimSuffix(currency, "s")
		}
		return number + " " + currency
	}
	return strings.TrimSpace(currency + " " + number)
}

// Amount writes an amount in whole units of the currency: "T$ 12,340".
func Amount(a money.Amount, currency string) string { return Money(a.Units(), currency) }

// Money writes a mean, or another figure of money that nobody pays, as an amount is written.
func Money(x float64, currency string) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return tongue.Say("no limit")
	}
	return of(Whole(x), currency)
}

// Price writes money of one stalk, with as many digits as tell small prices apart.
func Price(x float64, currency string) string {
	if math.IsInf(x, 0) || math.IsNaN(x) {
		return tongue.Say("no limit")
	}
	return of(tongue.Decimal(strconv.FormatFloat(x, 'f', 4, 64)), currency)
}

// Amounts writes a mean amount of money with its interval: "T$ 1,200 (900 to 1,500)".
func Amounts(m trials.Mean, currency string) string {
	return tongue.Sayf("%s (%s to %s)", Money(m.Mean, currency), BareMoney(m.Low), BareMoney(m.High))
}

// BareMoney writes money where the currency stands in the heading.
func BareMoney(x float64) string { return Money(x, "") }

// Prices writes a mean price of one stalk with its interval.
func Prices(m trials.Mean, currency string) string {
	return tongue.Sayf("%s (%s to %s)", Price(m.Mean, currency), Price(m.Low, ""), Price(m.High, ""))
}

// Funding says how a purchase is paid for: what a grant pays, what the group's own cash and what a
// loan. Parts of nothing are left out.
func Funding(f money.Funding, currency string) string {
	var parts []string
	pays := func(a money.Amount, first, then tongue.Text) {
		switch {
		case a <= 0:
		case len(parts) == 0:
			parts = append(parts, tongue.Sayf(string(first), Amount(a, currency)))
		default:
			parts = append(parts, tongue.Sayf(string(then), Amount(a, currency)))
		}
	}
	pays(f.Grant, "a grant pays %s", "a grant %s")
	pays(f.Own, "own cash before the first season pays %s", "own cash before the first season %s")
	pays(f.Loan, "a loan pays %s", "a loan %s")
	said := And(parts)
	if f.Loan > 0 {
		said += tongue.Sayf(", paid back in %d monthly instalments of %s", f.Months, about(f.Instalment, currency))
	}
	if f.Loan > 0 && f.Interest > 0 {
		said += tongue.Sayf(" (interest in all %s)", Amount(f.Interest, currency))
	}
	return said
}

// about writes an amount, and says so where it is not whole: many of them do not add up to what is stated else.
func about(a money.Amount, currency string) string {
	if x := a.Units(); x != math.Round(x) {
		return tongue.Sayf("about %s", Amount(a, currency))
	}
	return Amount(a, currency)
}

// losesMoney begins an answer whose plan loses money.
const losesMoney tongue.Text = "The plan loses money. "

// LosesFirst begins an answer whose plan loses money.
func LosesFirst(a decide.Answer, at int) string {
	if len(a.Money) == 0 || a.Money[at].Net.High >= 0 {
		return ""
	}
	return losesMoney.String()
}

// earnsWords says what the plan costs and earns, and what knowing more would be worth.
func earnsWords(a decide.Answer, at int, currency, compare string) []string {
	if len(a.Money) == 0 {
		return nil
	}
	e := a.Money[at]
	out := append(toFundWords(e, currency), loanNotSeen(e, compare), tongue.Sayf("A good stalk then costs %s%s and when all work is paid the region %s a year (%s seasons).",
		Prices(e.PerGood, currency), dryersIn(e), leftOrShort(e.Net, currency), Grouped(e.Net.Seasons)), membersHave(e, a.Money[0], currency))
	if m := e.More; m != nil && !math.IsInf(m.PerStalk.High, 0) && m.Delivered.Mean > 0 {
		out = append(out, moreWords(a, m, currency))
	}
	if w := a.Worth; w != nil {
		most := a.Money[w.Chosen]
		if most.Dryers != e.Dryers {
			out = append(out, mostLeft(most, e, currency))
		}
		switch best := w.Each[0]; {
		case w.All.Mean < 1:
			out = append(out, tongue.Sayf("For the money, knowing the unmeasured parameters before choosing the number that earns most would change nothing: it is worth less than %s a year.", Money(max(1, w.All.High), currency)))
		default:
			out = append(out, tongue.Sayf("For the money, knowing all of the unmeasured parameters before choosing the number that earns most would be worth about %s a year; the %s alone %s: %s.",
				Amounts(w.All, currency), best.Parameter, Amounts(best.Value, currency), best.Measure))
			if len(w.Each) > 1 {
				out = append(out, tongue.Say("What single ones are worth does not add up: one tells in part what another would."))
			}
		}
	}
	return out
}

// membersHave says what members have in all, beside what they have with the fewest dryers: where they are
// paid for what they cut, more may be left over for the one reason that less is paid to them.
func membersHave(e, fewest decide.Earns, currency string) string {
	if e.Members == nil {
		return ""
	}
	if fewest.Members == nil || fewest.Dryers == e.Dryers {
		return tongue.Sayf("With their pay members have %s a year in all.", Amounts(*e.Members, currency))
	}
	return tongue.Sayf("With their pay members then have %s a year in all, with %s %s.", Amounts(*e.Members, currency), Dryers(fewest.Dryers), Amounts(*fewest.Members, currency))
}

// mostLeft says with which number of dryers most is left, or that it leaves about as much.
func mostLeft(most, e decide.Earns, currency string) string {
	if most.Net.Low <= e.Net.High {
		return tongue.Sayf("With %s about as much is left, %s a year: too close to tell.", Dryers(most.Dryers), Amounts(most.Net, currency))
	}
	return tongue.Sayf("Most is left with %s, %s a year.", Dryers(most.Dryers), Amounts(most.Net, currency))
}

// moreWords says what a month met more and a stalk more cost against the fewest dryers tried.
func moreWords(a decide.Answer, m *decide.More, currency string) string {
	against := tongue.Say("no dryer")
	if n := a.Plans[0].Dryers; n > 0 {
		against = tongue.Sayf("the %s that %s", spelled(n), stands(n))
	}
	s := tongue.Sayf("Against %s a stalk more costs %s", against, Prices(m.PerStalk, currency))
	if m.MonthsMet.Mean > 0 && !math.IsInf(m.PerMonth.High, 0) {
		s += tongue.Sayf(" and a month met more %s", Amounts(m.PerMonth, currency))
	}
	return tongue.Sayf("%s, %s; pay to the group's own people is not counted.", s, AtFullPrice(a.Money))
}

// PlanEarnsSentence says what a plan costs and earns.
func PlanEarnsSentence(e decide.Earns, currency string) string {
	s := tongue.Sayf("A good stalk costs %s%s and when all work is paid the region %s a year.", Prices(e.PerGood, currency), dryersIn(e), leftOrShort(e.Net, currency))
	if members := membersHave(e, e, currency); members != "" {
		s += " " + members
	}
	return s
}

// Included says of what is paid for by the year whether it is in a figure: what a grant pays of it
// is not.
func Included(what string, grantShare float64) string {
	switch {
	case grantShare >= 1:
		return tongue.Sayf("without %s, which a grant pays in full", what)
	case grantShare > 0:
		return tongue.Sayf("%s included but for the %s that a grant pays", what, Percent(grantShare))
	}
	return tongue.Sayf("%s included", what)
}

// dryersIn is the aside on dryers in a sentence on costs, empty for a plan without any.
func dryersIn(e decide.Earns) string {
	if e.Dryers == 0 {
		return ""
	}
	return ", " + DryersIncluded([]decide.Earns{e}) + ","
}

// atNothing tells whether dryers of some plan have a price of 0, which is stated: where there are prices, that
// of a dryer is one of them.
func atNothing(plans []decide.Earns) bool {
	return slices.ContainsFunc(plans, func(e decide.Earns) bool {
		bought := e.ToFund != nil && e.ToFund.New > 0 && e.ToFund.Cost == 0
		return e.Dryers > 0 && (bought || e.GrantShare < 1 && slices.ContainsFunc(e.Parts, func(p decide.Part) bool { return p.Of == decide.DryersByTheYear && p.Year.Mean == 0 }))
	})
}

// DryersIncluded says of the dryers of plans whether they are in a figure by the year.
func DryersIncluded(plans []decide.Earns) string {
	if atNothing(plans) {
		return tongue.Say("the dryers at a price of 0")
	}
	return Included(tongue.Say("the dryers"), plans[0].GrantShare)
}

// AtFullPrice says that dryers are counted without what a grant pays, or that they have no price.
func AtFullPrice(plans []decide.Earns) string {
	if atNothing(plans) {
		return tongue.Say("the dryers at a price of 0")
	}
	return tongue.Say("the dryers at their full price by the year")
}

// toFundWords says what has to be found for the dryers that do not stand yet.
func toFundWords(e decide.Earns, currency string) []string {
	switch f := e.ToFund; {
	case f == nil || e.Dryers == 0:
		return nil
	case f.New == 0:
		return []string{tongue.Say("Nothing is to be bought: these dryers stand already.")}
	case f.Cost == 0:
		return []string{tongue.Sayf("To buy: %s, at a stated price of 0.", Dryers(f.New))}
	default:
		return []string{tongue.Sayf("To fund: %s for %s; %s.", Amount(f.Cost, currency), newDryers(f.New), Funding(f.Funding, currency))}
	}
}

// loanNotSeen says of a plan with a loan that nobody looked whether its instalments can be paid: an average
// year may hold enough for them and its months not.
func loanNotSeen(e decide.Earns, compare string) string {
	switch f := e.ToFund; {
	case f == nil || f.Loan == 0:
		return ""
	case compare == "":
		return tongue.Say("Whether there is cash for each instalment when it is due was not looked at here: drystalk compare with these dryers tells.")
	}
	return tongue.Sayf("Whether there is cash for each instalment when it is due was not looked at here: %s tells.", compare)
}

func newDryers(n int) string {
	if n == 1 {
		return tongue.Say("one new dryer")
	}
	return tongue.Sayf("%d new dryers", n)
}
