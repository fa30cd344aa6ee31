package words

import (
	"strings"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Compared is what is said of two plans in the same seasons.
type Compared struct {
	Region    string
	Changes   []Change // of the plan
	Outside   []Change // that lie outside the plan
	Result    decide.Comparison
	LoanEnds  int     // months
	Worst     float64 // share of seasons in which the worst month shall be met; 0 where the goal is another
	Tolerance float64 // part of a month's contract that may be missing
	Currency  string
	Spend     string // command line that asks what the money of the purchase would buy instead; "" for none
}

// Change is a key in which the plans differ.
type Change struct{ Key, A, B string }

// CompareSentence is the answer in one sentence: what becomes of the month that is worst now, and
// what those have of it whose money it is.
func CompareSentence(c Compared) string {
	month, safer := worstWords(c)
	s := tongue.Sayf("With %s, %s", c.What(), month)
	money, better, told := theirWords(c)
	if !told {
		switch more := c.Result.Totals[0].More; sign(more) {
		case 1:
			return tongue.Sayf("%s, and %s more good stalks are delivered in a season.", s, Whole(more.Mean))
		case -1:
			return tongue.Sayf("%s, and %s fewer good stalks are delivered in a season.", s, Whole(-more.Mean))
		}
		return tongue.Sayf("%s, and about as many good stalks are delivered in a season.", s)
	}
	word := tongue.Say("and")
	if safer*better < 0 {
		word = tongue.Say("but")
	}
	return s + ", " + word + " " + money + "."
}

// worstWords says what becomes of the month that is worst now; safer is 1 where it is met more
// often, -1 where less often, 0 where that cannot be told.
func worstWords(c Compared) (said string, safer int) {
	worst := c.Result.A.WorstMonth()
	then := oddsOf(c.Result.B, worst.Name)
	for _, m := range c.Result.Months {
		switch {
		case m.Name != worst.Name:
		case m.Gain.Low > 0:
			return tongue.Sayf("%s is safer (enough in %s)", worst.Name, insteadOfOdds(then, worst.Odds)), 1
		case m.Gain.High < 0:
			return tongue.Sayf("%s is less safe (enough in %s)", worst.Name, insteadOfOdds(then, worst.Odds)), -1
		}
	}
	if then.Share == 0 && worst.Odds.Share == 0 {
		return tongue.Sayf("%s is missed in every trial season, as today", worst.Name), 0
	}
	return tongue.Sayf("%s is met as often as today, as far as can be told (enough in %s)", worst.Name, inSeasons(then.Share)), 0
}

// insteadOfOdds says odds and what they were: "99 of 100 trial seasons instead of 92".
func insteadOfOdds(now, before trials.Odds) string {
	b := OutOf(before.Share)
	if c := counting(now.Share); c == ofSome || c == ofHardlyAny {
		b = outOfBefore(before.Share)
	}
	return tongue.Sayf("%s instead of %s", inSeasons(now.Share), b)
}

// inSeasons counts trial seasons: "92 of 100 trial seasons", "no trial season".
func inSeasons(share float64) string {
	if share == 0 {
		return tongue.Say("no trial season")
	}
	return tongue.Sayf("%s trial seasons", OutOf(share))
}

// theirWords says what members earn and work, or what is left to a group that hires its hands;
// better is 1 where they are better off in money, or in hours alone, -1 where worse. told is false
// where no prices are stated.
func theirWords(c Compared) (said string, better int, told bool) {
	m, p := c.Result.Members, c.Result.Purchase
	paid := ""
	if p != nil {
		paid = ", " + paidFor(p)
	}
	switch {
	case m != nil:
		earns, hours := m.EachMoney.More, m.EachHours.More
		better = sign(earns)
		if better == 0 {
			better = -sign(hours)
		}
		each := tongue.Say("each member")
		if m.MembersA != m.MembersB {
			each = tongue.Sayf("each of then %d members (%d today)", m.MembersB, m.MembersA)
		}
		apart := sitesApart(m)
		money := tongue.Sayf("%s earns about the same", each) + apart
		if sign(earns) != 0 {
			money = tongue.Sayf("%s earns %s a year%s%s", each, moreOrLess(earns, func(x float64) string { return Money(x, c.Currency) }), apart, paid)
		}
		if apart != "" || sign(earns) != 0 && paid != "" {
			money += ","
		}
		work := tongue.Say("works as many hours as today")
		if sign(hours) != 0 {
			work = tongue.Sayf("works %s", hoursWords(hours))
		}
		return tongue.Sayf("%s and %s", money, work), better, true
	case c.Result.Cutters != "":
		net := leftOver(c.Result)
		if sign(net) == 0 {
			return tongue.Say("as much money is left to the groups as today, as far as can be told"), 0, true
		}
		return tongue.Sayf("the groups have %s a year left%s", moreOrLess(net, func(x float64) string { return Money(x, c.Currency) }), paid), sign(net), true
	}
	return "", 0, false
}

// sitesApart says, where members of one site earn more and those of another less, how far they lie apart:
// what each earns on average is then true of no site.
func sitesApart(m *money.Livelihood) string {
	var most, least *money.Livelihood
	for k := range m.Sites {
		s := &m.Sites[k]
		if sign(s.EachMoney.More) > 0 && (most == nil || s.EachMoney.More.Mean > most.EachMoney.More.Mean) {
			most = s
		}
		if sign(s.EachMoney.More) < 0 && (least == nil || s.EachMoney.More.Mean < least.EachMoney.More.Mean) {
			least = s
		}
	}
	if most == nil || least == nil {
		return ""
	}
	return tongue.Sayf(" on average, from %s at %s to %s at %s", moreOrLess(least.EachMoney.More, BareMoney), least.Site, moreOrLess(most.EachMoney.More, BareMoney), most.Site)
}

// leftOver returns what a group that hires its hands has more left in a year, after what is bought
// is paid for.
func leftOver(c decide.Comparison) trials.Mean {
	if c.Purchase != nil {
		return c.Purchase.LevelGain
	}
	return c.Money[len(c.Money)-1].More
}

// paidFor says what is paid before a gain is counted.
func paidFor(p *money.Purchase) string {
	switch {
	case p.Loan > 0 && p.Own > 0:
		return tongue.Say("own part and loan paid")
	case p.Loan > 0:
		return tongue.Say("the loan paid")
	case p.Own > 0:
		return tongue.Say("the purchase paid")
	}
	return tongue.Say("the purchase given")
}

// sign tells which way a difference goes beyond chance.
func sign(m trials.Mean) int {
	switch {
	case m.Low > 0:
		return 1
	case m.High < 0:
		return -1
	}
	return 0
}

// moreOrLess writes a difference as a reader says it: "282 coins less".
func moreOrLess(m trials.Mean, number func(float64) string) string {
	if m.Mean < 0 {
		return tongue.Sayf("%s less", number(-m.Mean))
	}
	return tongue.Sayf("%s more", number(m.Mean))
}

// hoursWords writes a difference of hours, few of them with a decimal.
func hoursWords(m trials.Mean) string {
	return moreOrLess(m, func(x float64) string {
		if x < 9.5 {
			return tongue.Sayf("%.1f hours", x)
		}
		return tongue.Sayf("%s hours", Whole(x))
	})
}

// CompareVerdict opens the paragraph: whether what is bought pays, or what a change that costs
// nothing does to members, or that it cannot be told for want of prices.
func CompareVerdict(c Compared) string {
	switch {
	case c.Result.Cutters == "" || len(c.Result.Unpriced) > 0:
		return unpriced(c)
	case c.Result.Purchase != nil:
		return VerdictSentence(c)
	}
	return freeWords(c)
}

// CompareParagraph is what a decision needs besides, the most telling first.
func CompareParagraph(c Compared) []string {
	out := []string{evenWords(c)}
	if p := c.Result.Purchase; p != nil {
		out = append(out, costWords(*p, c.Currency), driveWords(*p))
	}
	return append(out, newWorst(c.Result), lowCash(c), enoughWords(c.Tolerance), HubInShort(c.Result.Hub), shortMonths(c.Result))
}

// unpriced names what is bought without a stated price.
func unpriced(c Compared) string {
	switch {
	case c.Result.Cutters == "":
		return tongue.Say("No prices are stated: nothing is said of money.")
	case len(c.Result.Unpriced) == 0:
		return ""
	}
	return tongue.Sayf("Whether it pays cannot be told: no price is stated for %s, and it is in no figure of money.", Items(c.Result.Unpriced))
}

// freeWords says of a change for which nothing is bought what it does to members at the worth of
// their hours.
func freeWords(c Compared) string {
	if c.Result.Members == nil {
		return tongue.Say("It costs nothing.")
	}
	at := lower(countedAt(c))
	worths := c.Result.Members.AtWorths
	gain := worths[len(worths)-1].Gain
	s := tongue.Sayf("It costs nothing; %smembers are ", at)
	switch sign(gain) {
	case 1:
		return tongue.Sayf("%stogether better off by %s a year (%s to %s).", s, Money(gain.Mean, c.Currency), BareMoney(gain.Low), BareMoney(gain.High))
	case -1:
		return tongue.Sayf("%stogether worse off by %s a year (%s to %s).", s, Money(-gain.Mean, c.Currency), BareMoney(-gain.High), BareMoney(-gain.Low))
	}
	return tongue.Sayf("%sas well off as today, as far as can be told.", s)
}

// newWorst names the month that is then worst, where it is another than now.
func newWorst(c decide.Comparison) string {
	was, then := c.A.WorstMonth(), c.B.WorstMonth()
	if then.Name == was.Name || then.Odds.Met >= oddsOf(c.B, was.Name).Met {
		return ""
	}
	return tongue.Sayf("The worst month is then %s, enough in %s.", then.Name, inSeasons(then.Odds.Share))
}

// enoughWords says what counts as enough where part of a month's contract may be missing.
func enoughWords(tolerance float64) string {
	if tolerance == 0 {
		return ""
	}
	return tongue.Sayf("Enough is at least %s of a month's contract.", Percent(1-tolerance))
}

// shortMonths names the months that are met more or less often beyond chance, without numbers.
func shortMonths(c decide.Comparison) string {
	var better, worse []string
	for _, m := range c.Months {
		switch sign(m.Gain) {
		case 1:
			better = append(better, m.Name)
		case -1:
			worse = append(worse, m.Name)
		}
	}
	var out []string
	if len(better) > 0 {
		out = append(out, tongue.Sayf("Safer by more than chance: %s.", And(better)))
	}
	if len(worse) > 0 {
		out = append(out, tongue.Sayf("Less safe by more than chance: %s.", And(worse)))
	}
	return strings.Join(out, " ")
}

// CompareNotes say in full what stands beside the answer.
func CompareNotes(c Compared) []Note {
	var out []Note
	if p := c.Result.Purchase; p != nil {
		out = purchaseNotes(*p, c)
	}
	return notes(out, note(tongue.Say("Months"), append(monthWords(c.Result), enoughWords(c.Tolerance))...), note(tongue.Say("Cash"), cashWords(c)...), note(tongue.Say("Dryers"), dryerWords(c)...), note(tongue.Say("The hub"), HubSentence(c.Result.Hub)))
}

// CompareWarnings says what makes the comparison of two plans less than fair or less than sharp.
func CompareWarnings(c Compared) []string {
	var out []string
	for _, o := range c.Outside {
		out = append(out, tongue.Sayf("%s is %s today and %s %s: that lies outside the plan, and what it does is in the differences.", o.Key, OrNone(o.A), OrNone(o.B), c.With()))
	}
	if x := c.Result.Correlation; x != nil && *x <= 0 {
		out = append(out, tongue.Sayf("The good stalks of both do not rise and fall together (correlation %.2f): the same seasons do not sharpen the comparison.", *x))
	}
	return out
}

func oddsOf(p decide.PlanResult, month string) trials.Odds {
	for _, m := range p.Months {
		if m.Name == month {
			return m.Odds
		}
	}
	return p.WorstMonth().Odds
}

// Stands tells whether a dryer has no charge and could have one in a state: it stands for want
// of something, or is broken.
func Stands(id sim.FigureID) bool {
	state, ok := id.State()
	return ok && (id.Figure().Kind == sim.Stands || state == sim.DryerBroken)
}

// monthWords names the months that change by more than chance, for better and for worse.
func monthWords(c decide.Comparison) []string {
	var better, worse []string
	for _, m := range c.Months {
		said := tongue.Sayf("%s %s points", m.Name, Points(m.Gain))
		switch sign(m.Gain) {
		case 1:
			better = append(better, said)
		case -1:
			worse = append(worse, said)
		}
	}
	var out []string
	if len(better) > 0 {
		out = append(out, tongue.Sayf("Met more often, in the same seasons: %s.", And(better)))
	}
	if len(worse) > 0 {
		out = append(out, tongue.Sayf("Met less often, in the same seasons: %s.", And(worse)))
	}
	if len(out) == 0 {
		return []string{tongue.Say("No month is met more or less often by more than chance.")}
	}
	return out
}

// dryerWords says what the dryers do with their hours.
func dryerWords(c Compared) []string {
	var out []string
	for _, second := range []bool{false, true} {
		var fire, all, idle float64
		n := 0
		for _, u := range c.Result.Dryers {
			if u.Second != second {
				continue
			}
			n++
			for _, h := range u.Hours {
				all += h.Hours.Mean
				if h.On == sim.DryerFiring.Figure() {
					fire += h.Hours.Mean
				}
				if h.On == sim.DryerNoStalks.Figure() || h.On == sim.DryerNotWanted.Figure() {
					idle += h.Hours.Mean
				}
			}
		}
		if n > 0 && all > 0 {
			when := map[bool]string{false: tongue.Say("Today"), true: Upper(c.With())}[second]
			out = append(out, tongue.Sayf("%s the dryers (%d) fire in %s of their shift hours and stand in %s for want of stalks or of need.", when, n, Percent(fire/all), Percent(idle/all)))
		}
	}
	return out
}
