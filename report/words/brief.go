package words

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode/utf8"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/knowledge"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// Brief is what a paper of two pages says besides the answer itself, passage by passage.
type Brief struct {
	Question string
	Answer   []string      // what follows the sentence of the answer
	Costs    []string      // what it costs, and who pays what
	Paid     money.Funding // how, where Costs do not say it; nothing where they do
	Currency string        // of that
	Left     []string      // what is left of a year then
	Changes  []string      // what would change the answer
	Measure  []string      // what to measure first; none: what nobody has measured
	Seasons  int           // behind the answer
}

// Asked is what the contract asks for in a month.
type Asked struct {
	Month  string
	Stalks int
}

// Background is what somebody must know to understand an answer who knows nothing of the region.
type Background struct {
	Region   string
	Sites    int
	Contract []Asked // the months that ask for stalks, in the order of the season
	Target   float64
	Goal     goal.Goal
}

// Sentences say what the region does, what is asked of it, what a dryer is and what counts as enough.
func (b Background) Sentences() []string {
	groups := tongue.Sayf("The %s groups of %s pull the stalks of a water plant, dry them on racks and sell", spelled(b.Sites), b.Region)
	if b.Sites == 1 {
		groups = tongue.Sayf("The group of %s pulls the stalks of a water plant, dries them on racks and sells", b.Region)
	}
	return []string{
		tongue.Sayf("%s the good ones to a buyer: %s.", groups, contractWords(b.Contract)),
		tongue.Say("In dry months the sun dries for nothing; in the rains stalks mould within days. A dryer is a cabinet heated with wood that dries them in any weather."),
		tongue.Sayf("A plan is called enough here if %s in %s. This is counted in trial seasons: a computer lives through a season hour by hour, each time with other weather and other luck.", enoughIf(b.Goal), OfTen(b.Target)),
	}
}

// enoughIf says when a season counts.
func enoughIf(g goal.Goal) string {
	if g.Kind == goal.WorstMonth {
		return tongue.Sayf("each contract month, the worst included, is met%s", leastOf(g))
	}
	return Happens(g, "")
}

// contractWords says what the contract asks for.
func contractWords(list []Asked) string {
	if len(list) == 0 {
		return tongue.Say("the contract asks for none")
	}
	low, high := list[0].Stalks, list[0].Stalks
	for _, m := range list {
		low, high = min(low, m.Stalks), max(high, m.Stalks)
	}
	many := Grouped(low)
	if high > low {
		many += tongue.Sayf(" to %s", Grouped(high))
	}
	if len(list) == 1 {
		return tongue.Sayf("%s in %s", many, list[0].Month)
	}
	return tongue.Sayf("%s in each month that the contract names, from %s to %s", many, list[0].Month, list[len(list)-1].Month)
}

// DryersBrief says what a paper on the number of dryers says: at is the plan that is spoken of, compare the
// command line that asks more of its loan.
func DryersBrief(a decide.Answer, at int, currency, compare string) Brief {
	b := Brief{Question: tongue.Sayf("How many dryers does %s need, and where?", a.Region), Seasons: a.Plans[at].AllMonths.Seasons}
	if a.Stopped != "" {
		b.Answer = []string{tongue.Say("This run was stopped early: this is what is known so far.")}
	}
	b.Answer = append(b.Answer, provenInShort(a), neighboursInShort(a))
	b.Answer = append(b.Answer, placesInShort(a, at))
	b.Costs = []string{noMoney.String()}
	if len(a.Money) > 0 {
		e := a.Money[at]
		b.Costs = append(toFundWords(e, currency), loanNotSeen(e, compare))
		if f := e.ToFund; f != nil && f.Cost > 0 {
			b.Costs = append(b.Costs, payer(f.Funding))
		}
		b.Left = yearOf(e, currency)
	}
	b.Changes = append(swingWords(a, 2), WithoutTolerance(a), shortInShort(a.Short))
	b.Measure = measureFirst(a)
	return b
}

// placesInShort says where the dryers of a plan stand; nothing where the sentence of the answer has
// said it already.
func placesInShort(a decide.Answer, at int) string {
	where := Where(a.Sites, a.Plans[at].PerSite)
	switch {
	case where == "" || strings.Contains(DryersSentence(a), "("+where+")"):
		return ""
	case strings.HasPrefix(where, tongue.Say("at ")):
		return tongue.Sayf("It stands %s.", where)
	}
	return tongue.Sayf("The %s stand so: %s.", Dryers(a.Plans[at].Dryers), where)
}

// SpendBrief says what a paper on a list of what to buy says.
func SpendBrief(region string, s spend.Answer, target float64, currency string) Brief {
	b := Brief{Question: tongue.Sayf("With %s, what does %s buy first?", Amount(s.Budget, currency), region), Seasons: s.Seasons}
	if s.Cheapest {
		b.Question = tongue.Sayf("What is the cheapest list that keeps %s's buyer supplied?", region)
	}
	b.Answer = SpendParagraph(s, target, currency)[:1]
	if s.Stopped {
		b.Answer = SpendParagraph(s, target, currency)[:2]
	}
	b.Costs = listCosts(s, currency)
	b.Left = []string{leftThen(s, currency)}
	if len(s.Steps) > 0 {
		b.Changes = append(b.Changes, whyEnds(s, target, currency))
	}
	if m, ok := nextStep(s); ok {
		b.Changes = append(b.Changes, nextInShort(s, m, currency))
	}
	for _, n := range append(weakNotes(s), DroppedNotes(s)...) {
		b.Changes = append(b.Changes, n.Says)
	}
	return b
}

// listCosts says what a list costs; how that is paid for is told by [Brief.PaidSo].
func listCosts(s spend.Answer, currency string) []string {
	cost := spentOf(s)
	if cost == 0 {
		return []string{tongue.Say("Nothing is bought.")}
	}
	return []string{tongue.Sayf("The list costs %s: %s.", Amount(cost, currency), inAll(s))}
}

// PaidSo says how what is bought is paid for, and by whom, where the costs do not say it.
func (b Brief) PaidSo() []string {
	if b.Paid.Cost == 0 {
		return nil
	}
	return []string{tongue.Sayf("Of that %s.", Funding(b.Paid, b.Currency)), payer(b.Paid)}
}

// BudgetsBrief says what a paper on several budgets says.
func BudgetsBrief(region string, each []spend.Answer, target float64, currency string) Brief {
	last := each[len(each)-1]
	b := SpendBrief(region, last, target, currency)
	b.Question = tongue.Sayf("What does each of %s budgets buy at %s?", spelled(len(each)), region)
	b.Answer = askedOfBudgets(each, target, currency) // what members earn stands with what is left over
	b.Costs = append([]string{tongue.Sayf("What follows is of the largest budget, %s.", Amount(last.Budget, currency))}, b.Costs...)
	return b
}

// CompareBrief says what a paper on two plans says.
func CompareBrief(c Compared) Brief {
	b := Brief{Question: compareQuestion(c), Seasons: c.Result.Seasons}
	b.Answer = append([]string{newWorst(c.Result)}, monthsInShort(c.Result)...)
	p := c.Result.Purchase
	switch {
	case c.Result.Cutters == "":
		b.Costs = []string{noMoney.String()}
	case p == nil:
		b.Costs = []string{tongue.Say("Nothing is bought.")}
	default:
		b.Costs = []string{tongue.Sayf("What is bought costs %s: %s.", Amount(p.Cost, c.Currency), Funding(p.Funding, c.Currency)), payer(p.Funding)}
		b.Costs = append(append(b.Costs, backWords(*p)...), lowCash(c))
	}
	b.Changes = append([]string{evenWords(c)}, whatIfs(c)...)
	b.Changes = append(b.Changes, CompareWarnings(c)...)
	return b
}

// mostInQuestion is how many letters a question may have that names places too.
const mostInQuestion = 110

// compareQuestion asks what a change would do, and where, if that is not too long for a heading.
func compareQuestion(c Compared) string {
	ask := func(what string) string {
		return tongue.Sayf("What would %s do at %s, and does it pay?", what, c.Region)
	}
	if q := ask(c.What()); utf8.RuneCountInString(q) <= mostInQuestion {
		return q
	}
	return ask(c.Short())
}

// whatIfs say how a purchase fares under each changed assumption: first where that turns the verdict.
func whatIfs(c Compared) []string {
	p := c.Result.Purchase
	if p == nil || len(c.Result.Unpriced) > 0 {
		return nil
	}
	var order []money.Verdict
	ifs := map[money.Verdict][]string{}
	for _, w := range p.WhatIfs {
		if len(ifs[w.Verdict]) == 0 && w.Verdict != p.Verdict {
			order = append(order, w.Verdict)
		}
		ifs[w.Verdict] = append(ifs[w.Verdict], WhatIf(w.Change))
	}
	var said []string
	for _, v := range order {
		said = append(said, tongue.Sayf("It %s if %s.", futureVerdicts[v], or(ifs[v])))
	}
	if same := ifs[p.Verdict]; len(same) > 0 {
		said = append(said, tongue.Sayf("The verdict stays the same if %s.", or(same)))
	}
	return said
}

// or joins clauses of which any may come true: "a, b or c".
func or(list []string) string {
	if len(list) < 2 {
		return strings.Join(list, "")
	}
	return tongue.Sayf("%s or %s", strings.Join(list[:len(list)-1], ", "), list[len(list)-1])
}

// monthsInShort names the months that are met more or less often beyond chance, with how many seasons
// of 100 by; the tables have the intervals.
func monthsInShort(c decide.Comparison) []string {
	var more, fewer []string
	for _, m := range c.Months {
		said := fmt.Sprintf("%s (%d)", m.Name, Round(math.Abs(100*m.Gain.Mean)))
		switch sign(m.Gain) {
		case 1:
			more = append(more, said)
		case -1:
			fewer = append(fewer, said)
		}
	}
	var out []string
	if len(more) > 0 {
		out = append(out, tongue.Sayf("More seasons of 100 meet %s.", And(more)))
	}
	if len(fewer) > 0 {
		out = append(out, tongue.Sayf("Fewer seasons of 100 meet %s.", And(fewer)))
	}
	if len(out) == 0 {
		return []string{tongue.Say("No month is met more or less often by more than chance.")}
	}
	return out
}

// futureVerdicts are the verdicts on a purchase under a changed assumption.
var futureVerdicts = map[money.Verdict]tongue.Text{
	money.PaysInNearlyAll: "pays in nearly all futures", money.PaysOnAverage: "pays on average, with a risk,",
	money.CannotBeTold: "may pay or not, which cannot be told,", money.DoesNotPay: "does not pay",
}

// PromiseBrief says what a paper on a promise says; penalty is what a missing stalk costs, below 0
// where no prices are stated.
func PromiseBrief(region string, p decide.Promise, penalty float64, currency string) Brief {
	b := Brief{Question: tongue.Sayf("How many good stalks a month can %s safely promise a buyer?", region), Seasons: p.Seasons}
	if p.Flat > 0 {
		b.Answer = append(b.Answer, ofLargest(p))
	}
	for _, n := range PromiseNotes(p) {
		switch n.About {
		case tongue.Say("How sure"):
			b.Answer = append(b.Answer, n.Says)
		case tongue.Say("One month alone"), tongue.Say("Stock before the rains"):
			b.Changes = append(b.Changes, n.Says)
		}
	}
	b.Costs = []string{tongue.Say("Nothing is bought for this promise: it is what can be done with what there is.")}
	switch {
	case penalty < 0:
		b.Costs = append(b.Costs, noMoney.String())
	case penalty == 0:
		b.Costs = append(b.Costs, tongue.Say("No penalty is stated for missing stalks; what is not delivered is not paid for."))
	default:
		b.Costs = append(b.Costs, tongue.Sayf("If a month is missed, a penalty of %s for each missing stalk is due, and the stalk is not paid for.", HourMoney(penalty, currency)))
	}
	return b
}

// unmeasured are the parameters that a group measures with a pencil and a balance, those first that
// most plans hang on.
var unmeasured = []knowledge.Key{knowledge.OutputFactor, knowledge.SkinFactor, knowledge.RateAt80CPerH}

// MeasureAnyway says what is worth measuring where a question does not tell which number moves its
// answer most: what was drawn anew in each season because nobody has measured it.
func MeasureAnyway(assumed []sim.Assumption) []string {
	var said []string
	for _, r := range knowledge.Table() {
		drawn := slices.ContainsFunc(assumed, func(a sim.Assumption) bool { return a.VariedInTrials && a.Name == r.Name.String() })
		if drawn && slices.Contains(unmeasured, r.Key) {
			said = append(said, tongue.Sayf("the %s (%s)", r.Name, r.Measure))
		}
	}
	if len(said) == 0 {
		return []string{tongue.Say("Time a few loads of your own and count a few days' cutting before anything is bought: what is stated here may differ at your place.")}
	}
	return []string{
		tongue.Sayf("Nobody has measured these at this place, so that each trial season drew other numbers for them: %s.", And(said)),
		tongue.Say("Which of them this answer hangs on most was not asked here; drystalk dryers tells."),
	}
}

// Passage joins sentences, without empty ones.
func Passage(lists ...[]string) string { return strings.Join(Paragraphs(slices.Concat(lists...)), " ") }

// Paragraphs joins sentences, without empty ones, to paragraphs that can be read aloud: a new one
// begins where the words or numbers of one would be too many, and with each list.
func Paragraphs(lists ...[]string) []string {
	var out []string
	for _, list := range lists {
		said := ""
		for _, s := range list {
			s = strings.TrimSpace(s)
			if s == "" {
				continue
			}
			with := strings.TrimSpace(said + " " + s)
			if w, n := Count(with); said != "" && (w > MostWords || n > MostNumbers) {
				out, with = append(out, said), s
			}
			said = with
		}
		if said != "" {
			out = append(out, said)
		}
	}
	for k, s := range out {
		out[k] = byOthers.Replace(s)
	}
	return out
}

// byOthers are words to somebody of the region, put for a reader from elsewhere.
var byOthers = strings.NewReplacer("than you wrote", "than was stated", "an hour of yours", "a member's hour", "an hour of your time", "an hour of a member's time", "your place may differ", "the place may differ")
