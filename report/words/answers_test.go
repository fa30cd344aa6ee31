package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// said joins the sentences of a paragraph.
func said(paragraph []string) string { return strings.Join(paragraph, " ") }

// A share that is neither 0 nor 1 is never called 0 or 100 %, at the very edge too.
func TestSharesAtTheEdges(t *testing.T) {
	for x, want := range map[float64]string{0.0049: "under 1 %", 0.005: "1 %", 0.01: "1 %", 0.99: "99 %", 0.9949: "99 %", 0.995: "over 99 %", 0.9951: "over 99 %"} {
		assert.Equal(t, want, Percent(x), x)
	}
	assert.Equal(t, "over 99 % (99 to over 99 %)", Odds(trials.NewOdds(995, 1000)))
	assert.Equal(t, "0 % (0 to under 1 %)", Odds(trials.NewOdds(0, 1000)))
}

// Whether a target is reached: of 1,000 seasons that each meet it with probability 0.9, 923 or more do in 0.00725 of
// all cases and 922 or more in 0.00987, 875 or fewer in 0.00602 and 876 or fewer in 0.00793 (binomial law, its terms
// added up exactly), and 0.0075 is what may go wrong on either side.
func TestReachesIsSure(t *testing.T) {
	for met, want := range map[int]reach{1000: reached, 923: reached, 922: untold, 900: untold, 876: untold, 875: missed, 0: missed} {
		assert.Equal(t, want, reaching(trials.NewOdds(met, 1000), 0.9), met)
	}
}

// Differences keep their sign, and intervals go from low to high.
func TestDifferencesKeepTheirSign(t *testing.T) {
	m := trials.Mean{Mean: -0.05, Low: -0.08, High: 0.01}
	assert.Equal(t, "-5 (-8 to +1)", Points(m))
	assert.Equal(t, "-1,200 (-1,500 to +900)", More(trials.Mean{Mean: -1200, Low: -1500, High: 900}))
	assert.Equal(t, "900 to 1,500", Between(trials.Mean{Mean: 1200, Low: 900, High: 1500}))
	assert.Equal(t, "T$ 0.0800 (0.0784 to 0.0816)", Prices(sample.Mean(0.08), "T$"))
	assert.Equal(t, []string{"1 month", "23 months", "2.0 years", "2.5 years"}, []string{Months(1), Months(23), Months(24), Months(30)})
}

// Months that are met less often are not said to be met more often.
func TestMonthsForBetterAndForWorse(t *testing.T) {
	gain := func(name string, low, mean, high float64) decide.MonthDifference {
		return decide.MonthDifference{Name: name, Gain: trials.Mean{Mean: mean, Low: low, High: high}}
	}
	c := decide.Comparison{Months: []decide.MonthDifference{gain("June", -0.01, 0.01, 0.03), gain("July", 0.12, 0.15, 0.18), gain("August", -0.09, -0.06, -0.03)}}
	assert.Equal(t, []string{"Met more often, in the same seasons: July +15 (+12 to +18) points.", "Met less often, in the same seasons: August -6 (-9 to -3) points."}, monthWords(c))
	assert.Equal(t, []string{"No month is met more or less often by more than chance."}, monthWords(decide.Comparison{Months: c.Months[:1]}))
}

// What the notes of a comparison say of money, dryers, cash and the loan, and what it warns of.
func TestComparisonByHand(t *testing.T) {
	c := sample.Comparison()
	p := c.Purchase
	p.BeforeEnd = trials.NewOdds(110, 200)
	p.Funding = money.Funding{Cost: money.Of(6000), Grant: money.Of(2000), Own: money.Of(500), Loan: money.Of(3500), Months: 36, Instalment: money.Of(130), Interest: money.Of(680)}
	failed := trials.NewOdds(30, 200)
	p.NotCovered = &failed
	p.Verdict = money.PaysOnAverage
	p.Cash = []money.SiteCash{{Site: "Heron Point", Below: trials.NewOdds(6, 200), Lowest: trials.Band{P5: -7622}}, {Site: "Heron Point", Second: true, Funding: &p.Funding, Below: trials.NewOdds(40, 200), Lowest: trials.Band{P5: -302}, Years: []money.CashYear{{Year: 1, NotCovered: &failed}}, Cushion: &money.Cushion{Cash: 270, NotCovered: trials.NewOdds(10, 200)}}}
	c.Accounts = []decide.AccountResult{{Site: "Heron Point", Second: true, Lowest: trials.Band{P5: -300, Median: -120}, At: "August", Uncovered: trials.Mean{Mean: 1.5, Low: 1.2, High: 1.8}}}
	c.Dryers = []decide.DryerUse{{Second: true, Hours: []decide.Spent{
		{On: sim.DryerFiring.Figure(), Hours: sample.Mean(600)}, {On: sim.DryerNoStalks.Figure(), Hours: sample.Mean(300)}, {On: sim.DryerBroken.Figure(), Hours: sample.Mean(100)},
	}}}
	correlation := -0.25
	c.Correlation = &correlation
	all := Compared{Result: c, LoanEnds: 36, Currency: "coins", Changes: []Change{{"Heron Point.dryers", "1", "2"}}, Outside: []Change{{Key: "gate.refused", B: "0.1"}}}
	var says []string
	for _, n := range CompareNotes(all) {
		says = append(says, n.About+": "+n.Says)
	}
	noted := strings.Join(says, "\n")
	for _, want := range []string{
		"The purchase: What is bought costs 6,000 coins: a grant pays 2,000 coins, own cash before the first season 500 coins and a loan 3,500 coins, paid back in 36 monthly instalments of 130 coins (interest in all 680 coins).",
		"The loan: In 15 % (10 to 21 %) of 200 futures there is too little cash for an instalment at least once in the 3 years of the loan. What a year leaves is taken to be shared out at its end",
		"need. With 270 coins more in the cash box of Heron Point from the first season on, kept there and not shared out, its instalments would find too little in 5 % (2 to 9 %) of futures.",
		"Over 8 years the cash of Heron Point falls below nothing in 20 % (15 to 26 %) of futures, in one of twenty to -302 coins or lower; without the purchase in 3 % (1 to 6 %), in one of twenty to -7,622 coins or lower.",
		"When the money comes back: In 180 of 200 futures the money comes back and stays back within the 8 years, half the time within 2.5 years, nine times of ten between 12 months and 6.7 years; in 20 it does not. The money is back within the 3 years of the loan in 55 % (48 to 62 %) of futures.",
		"Dryers: With a second dryer the dryers (1) fire in 60 % of their shift hours and stand in 30 % for want of stalks or of need.",
		"Cash: In the first year the cash of Heron Point is lowest in August, at -120 coins in a middling season and -300 coins in one of twenty, own part and instalments paid; in 15 % (10 to 21 %) of futures an instalment of that year finds too little cash.",
	} {
		assert.Contains(t, noted, want)
	}
	assert.NotContains(t, noted, "second grade")
	warnings := CompareWarnings(all)
	require.Len(t, warnings, 2)
	assert.Contains(t, warnings[0], "gate.refused is not stated today and 0.1 with a second dryer")
	assert.Contains(t, warnings[1], "correlation -0.25")
	assert.Equal(t, "With a second dryer at Heron Point, July is safer (enough in 95 of 100 trial seasons instead of 80), and the groups have 470 coins more a year left, own part and loan paid.", CompareSentence(all))
	paragraph := CompareVerdict(all) + " " + said(CompareParagraph(all))
	assert.Contains(t, paragraph, "It pays on average, but misses an instalment in 3 of 20 futures of 8 years and loses in fewer than 1 of 20.")
	assert.Contains(t, paragraph, "What is bought costs 6,000 coins.")
	assert.Contains(t, paragraph, "In one first year of twenty the cash of Heron Point falls to -300 coins or lower, most often in August.")
	p.WhatIfs = append(p.WhatIfs, money.WhatIf{Change: money.SecondGoes, Verdict: money.DoesNotPay, NPV: trials.Mean{Mean: -900, Low: -1200, High: -600}})
	assert.Contains(t, CompareNotes(all)[3].Says, "The verdict hangs on the sale of second grade: if nobody buys it, the purchase does not pay (net present value -900 coins (-1,200 to -600)).")
	p.Months = 120
	assert.Equal(t, "first 8 years of the loan", LifeOfLoan(*p), "what lies beyond the futures is not told")
	correlation = 0.25
	assert.Len(t, CompareWarnings(all), 1, "plans that rise and fall together need no warning")
}

// Dryers are said to be included only as far as they are: not what a grant pays of them, and not
// where there are none. The sum to fund is said by its parts, and what stands is not bought.
func TestDryersIncludedAndSumToFund(t *testing.T) {
	e := decide.Earns{Dryers: 4, PerGood: sample.Mean(0.1), Net: sample.Mean(1000)}
	said := func(grant float64, dryers int) string {
		e.GrantShare, e.Dryers = grant, dryers
		return PlanEarnsSentence(e, "T$")
	}
	const cost, earns = "A good stalk costs T$ 0.1000 (0.0980 to 0.1020)", " and when all work is paid the region is left with T$ 1,000 (980 to 1,020) a year."
	assert.Equal(t, cost+", the dryers included,"+earns, said(0, 4))
	assert.Equal(t, cost+", the dryers included but for the 50 % that a grant pays,"+earns, said(0.5, 4))
	assert.Equal(t, cost+", without the dryers, which a grant pays in full,"+earns, said(1, 4))
	assert.Equal(t, cost+earns, said(1, 0))

	funded := decide.ToFund{New: 3, Funding: money.Funding{Cost: money.Of(18_000), Grant: money.Of(9000), Own: money.Of(3600), Loan: money.Of(5400), Months: 20, Instalment: money.Of(270)}}
	e.Dryers, e.ToFund = 4, &funded
	assert.Equal(t, []string{"To fund: T$ 18,000 for 3 new dryers; a grant pays T$ 9,000, own cash before the first season T$ 3,600 and a loan T$ 5,400, paid back in 20 monthly instalments of T$ 270."}, toFundWords(e, "T$"))
	const notSeen = "Whether there is cash for each instalment when it is due was not looked at here: "
	a := decide.Answer{Money: []decide.Earns{e}, Plans: make([]decide.PlanResult, 1)}
	members := sample.Mean(30_000)
	withPay := a.Money[0]
	withPay.Members = &members
	assert.Equal(t, "With their pay members have T$ 30,000 (29,400 to 30,600) a year in all.", membersHave(withPay, withPay, "T$"))
	more := withPay
	more.Dryers = 3
	assert.Equal(t, "With their pay members then have T$ 30,000 (29,400 to 30,600) a year in all, with "+Dryers(withPay.Dryers)+" T$ 30,000 (29,400 to 30,600).", membersHave(more, withPay, "T$"))
	assert.Empty(t, membersHave(a.Money[0], withPay, "T$"), "hired hands have nothing of what is left")
	assert.Contains(t, earnsWords(a, 0, "T$", ""), notSeen+"drystalk compare with these dryers tells.", "a loan is owed in bad seasons too")
	assert.Contains(t, earnsWords(a, 0, "T$", "drystalk compare reed.yaml --with 'Reed Bay: dryers=2'"), notSeen+"drystalk compare reed.yaml --with 'Reed Bay: dryers=2' tells.")
	e.ToFund = &decide.ToFund{New: 1, Funding: money.Funding{Cost: money.Of(6000), Grant: money.Of(6000)}}
	assert.Equal(t, []string{"To fund: T$ 6,000 for one new dryer; a grant pays T$ 6,000."}, toFundWords(e, "T$"))
	assert.Empty(t, loanNotSeen(e, ""), "nothing is owed")
	e.ToFund = &decide.ToFund{New: 2}
	assert.Equal(t, []string{"To buy: 2 dryers, at a stated price of 0."}, toFundWords(e, "T$"))
	e.GrantShare, e.More = 0.2, &decide.More{PerStalk: sample.Mean(1), Delivered: sample.Mean(1)}
	a = decide.Answer{Money: []decide.Earns{e}, Plans: make([]decide.PlanResult, 1)}
	assert.Contains(t, strings.Join(earnsWords(a, 0, "T$", ""), " "), "costs T$ 0.1000 (0.0980 to 0.1020), the dryers at a price of 0,", "nothing is included, and a grant pays nothing")
	assert.Contains(t, strings.Join(earnsWords(a, 0, "T$", ""), " "), "a stalk more costs T$ 1.0000 (0.9800 to 1.0200), the dryers at a price of 0;")
	e.ToFund, e.Parts = nil, []decide.Part{{Of: decide.DryersByTheYear}}
	assert.Equal(t, cost+", the dryers at a price of 0,"+earns, said(0.2, 4), "those that stand too")
	assert.Equal(t, cost+", without the dryers, which a grant pays in full,"+earns, said(1, 4), "a part of nothing tells no price")
	assert.Equal(t, cost+earns, said(0.2, 0))
	e.Dryers, e.Parts = 4, nil
	e.ToFund = &decide.ToFund{}
	assert.Equal(t, []string{"Nothing is to be bought: these dryers stand already."}, toFundWords(e, "T$"))
	e.ToFund = nil
	assert.Empty(t, toFundWords(e, "T$"), "it was not asked")
}

// Of real years the worst month is told, the record before the generator, and from where a
// difference would have been seen; a changed climate is not compared, a damaged record said first.
func TestRealYearsByHand(t *testing.T) {
	y := decide.YearsResult{
		Station: "Lake Tavari", Draws: 20, Years: make([]decide.YearResult, 2), All: trials.Mean{Mean: 0.45, Low: 0.3, High: 0.6},
		Months: []decide.MonthAgrees{
			{Name: "June", Real: trials.Mean{Mean: 0.97, Low: 0.9, High: 1}, Generator: trials.NewOdds(960, 1000), Shows: 0.061},
			{Name: "July", Real: trials.Mean{Mean: 0.5, Low: 0.37, High: 0.63}, Generator: trials.NewOdds(900, 1000), Shows: 0.204},
		},
	}
	const begin = "In the 2 real seasons of Lake Tavari, each with 20 draws of luck, all months are met in 45 % (30 to 60 %). The worst month, July, in 50 % (37 to 63 %); the generator says 90 % (88 to 92 %)."
	const seen = " So many years would show a difference of 7 points or more in June and of 21 points or more in July; smaller ones they cannot tell."
	assert.Equal(t, begin+" They do not agree: trust the real years, and look at the fit of the weather."+seen, YearsSentence(y))
	y.Agree = true
	assert.Equal(t, begin+" No month differs beyond chance."+seen, YearsSentence(y))
	y.Changed, y.Suspected = []string{"warmer_c", "storms_per_year"}, []string{"a: b. c."}
	assert.Equal(t, "The record of Lake Tavari looks damaged (a: b. c). "+begin+" The plan changes its climate (warmer_c and storms_per_year) and the real years are as they were, so the two are not compared.", YearsSentence(y))
	y.Changed, y.Suspected, y.Months = nil, nil, y.Months[:1]
	assert.Contains(t, YearsSentence(y), " So many years would show a difference of 7 points or more in June.")
	y.Months = nil
	assert.Equal(t, "In the 2 real seasons of Lake Tavari, each with 20 draws of luck, all months are met in 45 % (30 to 60 %).", YearsSentence(y))
}

// A fitted climate says first how good it is, then why, then where it was not judged.
func TestFittedSentences(t *testing.T) {
	assert.Equal(t, []string{"The weather was fitted to 69 complete years of Lake Tavari and is good for planning."},
		FittedSentences("Lake Tavari", weather.Judgement{Verdict: weather.VerdictGood, CompleteYears: 69, Reasons: []string{"a trifle."}, Months: []int{6, 7}}, []int{6, 7}))
	assert.Equal(t, []string{
		"The weather was fitted to 9 complete years of Lake Tavari and is not usable.", "One.", "Two.", "1 more reasons stand in the climate file.",
		"The contract asks in October and November, for which the fit was not judged: fit again with --scenario to have it judged there.",
	}, FittedSentences("Lake Tavari", weather.Judgement{Verdict: weather.VerdictUseless, CompleteYears: 9, Reasons: []string{"One.", "Two", "Three."}, Months: []int{6}}, []int{6, 10, 11}))
	assert.Equal(t, []string{"The weather was fitted to Lake Tavari, and its climate file does not say how well: fit it again with this version to know."},
		FittedSentences("Lake Tavari", weather.Judgement{}, []int{6}))
}

// Normals alone say which way they err, and that they do where the monsoon is sharp.
func TestNormalsSentence(t *testing.T) {
	assert.Contains(t, NormalsSentence("Lake Tavari", true), "in a sharp monsoon, as here,")
	assert.Contains(t, NormalsSentence("Lake Tavari", false), "right within a few points")
}

// A fit counts what lies inside; of many refused years twelve are named and the rest counted.
func TestFitByHand(t *testing.T) {
	f := weather.FitReport{Summary: weather.Summary{Station: "Lake Tavari"}, Verdict: weather.VerdictCare, Lines: []weather.Line{{Inside: true}, {Inside: true}, {}}}
	assert.Contains(t, FitSentence(f), "is usable with care: 2 of 3 checks")
	f.Verdict = weather.VerdictGood
	assert.Contains(t, FitParagraph(f), "1 check does not hold (marked no in the table): it differs by less than matters for drying, or decides nothing.")
	f.Lines = append(f.Lines, weather.Line{})
	assert.Contains(t, FitParagraph(f), "2 checks do not hold (marked no in the table): each differs by less than matters for drying, or decides nothing.")
	f.Lines = f.Lines[:2]
	assert.Contains(t, FitParagraph(f), "Nothing that was found speaks against it.")
	refused := make([]weather.YearQuality, 15)
	got := RefusedYears(weather.Summary{Refused: refused})
	require.Len(t, got, 13)
	assert.Equal(t, "and 3 more years.", got[12])
}

// Why a month was missed says how many stalks were missing, not how many came.
func TestWhyMissedByHand(t *testing.T) {
	assert.Equal(t, "July missed 300 of 1,000 stalks. Nothing tried alone would have added a stalk.", WhySentence(decide.MonthWhy{Month: "July", Asked: 1000, Delivered: 700}))
}

// What is promised beside what is not, and the stock before the rains beside a smaller one.
func TestPromiseByHand(t *testing.T) {
	p := decide.Promise{
		Target: 0.9, Flat: 30_600, Part: 1.02, Next: 30_900, NextOdds: trials.NewOdds(912, 1000), Months: []decide.Promised{{Name: "April", Stalks: 74_000}, {Name: "May", Stalks: 80_000, Odds: trials.NewOdds(91, 100)}},
		Stock: &decide.StockNeed{After: "April", Stalks: 20_000, Odds: trials.NewOdds(930, 1000), Less: 18_000, LessIn: trials.NewOdds(890, 1000), Seasons: 1000},
	}
	paragraph := said(PromiseParagraph(p))
	for _, want := range []string{
		"That is 102 % of the largest month", "A promise of 30,900 came out at 91 of 100, but that may be as low as 89 of 100.",
		"With 20,000 good stalks at the hub at the end of April, each later month of the contract as written is met in at least 93 of 100 trial seasons; fewer stalks may do.",
	} {
		assert.Contains(t, paragraph, want)
	}
	beside := PromiseNotes(p)
	assert.NotContains(t, paragraph, "80,000", "what is not proven is no offer")
	assert.Contains(t, beside, Note{"One month alone", "One month alone might take more while the others stay, most in May: 80,000 came out at 91 % (84 to 96 %), which is not proven. Do not promise it on this."})
	assert.Contains(t, beside[0].Says, "30,900 are not proven: met in 91 % (89 to 93 %).")
	assert.Contains(t, beside[2].Says, "the worst is then met in 93 % (91 to 95 %) of 1,000 seasons. With 18,000 it is 89 % (87 to 91 %).")
	assert.Contains(t, beside[2].Says, "20,000 good stalks at the hub at the end of April (30 April) are proven to be enough for the rest of it; fewer stalks may do. Enough means that every later month is met in 9 seasons of 10: the worst is then met in 93 % (91 to 95 %) of 1,000 seasons. With 18,000")
	need := *p.Stock
	need.Odds, need.Less = trials.NewOdds(188, 200), 0
	assert.Contains(t, stockWords(need, p)[0], "(30 April) may be enough for the rest of it; fewer stalks may do.", "its interval holds the target, and none below was tried in these seasons")
	need.Stalks = 0
	assert.NotContains(t, stockWords(need, p)[0], "fewer")
	for met, want := range map[int]string{996: "in at least 99 of 100 trial seasons;", 1000: "in all trial seasons;"} {
		p.Stock.Odds = trials.NewOdds(met, 1000)
		assert.Contains(t, said(PromiseParagraph(p)), "each later month of the contract as written is met "+want)
	}
	p.Stock.LessIn = trials.NewOdds(800, 1000)
	assert.NotContains(t, said(PromiseParagraph(p)), "fewer stalks", "they clearly do not")
	assert.Equal(t, []string{"February (28 February)", "December (31 December)"}, []string{endOf("February"), endOf("December")})
	p.Months[0] = decide.Promised{Name: "April", Stalks: 80_000, Odds: trials.NewOdds(90, 100)}
	assert.Equal(t, "One month alone might take more while the others stay, alike in any month: 80,000 came out at 90 % (82 to 95 %) or better, which is not proven. Do not promise it on this.", PromiseNotes(p)[1].Says)
	p.Months = append(p.Months, decide.Promised{Name: "June", Stalks: 80_000, Odds: trials.NewOdds(90, 100)}, decide.Promised{Name: "July", Stalks: 70_000})
	assert.Contains(t, PromiseNotes(p)[1].Says, "most in any month but July: 80,000 came out at 90 %")
	p.Months = append(p.Months[2:], decide.Promised{Name: "August", Stalks: 80_000, Odds: trials.NewOdds(91, 100)})
	assert.Contains(t, PromiseNotes(p)[1].Says, "most in June and August: 80,000 came out at 90 %")
	few := decide.Promise{Target: 0.9, Next: 5100, NextOdds: trials.NewOdds(20, 20)}
	assert.Equal(t, "The lake can promise no contract yet: with 5,100 stalks a month the worst month is met in all of the trial seasons, but 20 seasons are too few to prove it; 90 of 100 were asked for.", PromiseSentence("The lake", few))
	p.Stock.Stalks = -1
	assert.Contains(t, said(PromiseParagraph(p)), "No stock tried at the end of April")
}

// What is left after is not what was left before, and the target is reached where it is.
func TestSpendingByHand(t *testing.T) {
	at := func(met int, spent money.Amount) spend.Bought {
		return spend.Bought{Spent: spent, Odds: trials.NewOdds(met, 1000), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(met, 1000)}, Fewer: sample.Mean(500)}
	}
	s := spend.Answer{Start: at(500, 0), Steps: []spend.Bought{at(930, money.Of(4000)), at(960, money.Of(6000))}, Reached: 1, Before: sample.Mean(5000), After: sample.Mean(6000), More: sample.Mean(1000), Hands: money.Hired, Ends: spend.NothingHelps}
	paragraph := said(SpendParagraph(s, 0.9, "T$"))
	for _, want := range []string{
		"The 90 asked for are reached after 1 of 2 steps, for T$ 4,000.", "When all work is paid, T$ 6,000 a year are then left, as it is 5,000.",
	} {
		assert.Contains(t, paragraph, want)
	}
	assert.Contains(t, SpendNotes(s, 0.9, "T$"), Note{"Money", "When all work is paid the region is then left with T$ 6,000 (5,880 to 6,120) a year, what is bought included, against T$ 5,000 (4,900 to 5,100) as it is."})
	s.Hands, s.More.Low = money.Members, -10
	for _, says := range []string{said(SpendParagraph(s, 0.9, "T$")), said(SpendBrief("Lake", s, 0.9, "T$").Left), SpendNotes(s, 0.9, "T$")[1].Says} {
		assert.Contains(t, says, "as it is")
		assert.Contains(t, says, " That difference is no more than chance. What members earn by their work may fall: see drystalk compare.")
	}
	s.Budget, s.Marginal = money.Of(6007), []spend.Marginal{{Cost: money.Of(80)}, {Cost: money.Of(8)}}
	assert.Contains(t, said(SpendParagraph(s, 0.9, "T$")), "The list ends because T$ 7 are left over, less than the cheapest thing on offer costs.")
	s.Marginal[1].Cost = money.Of(7)
	assert.Contains(t, said(SpendParagraph(s, 0.9, "T$")), "helps by more than chance.")
	for met, want := range map[int]string{
		960: "The list is enough: 90 of 100 were asked for.", 900: "Whether the list's 90 of 100 reaches the 90 asked for is too close to tell.", 800: "The list's 80 of 100 is short of the 90 asked for.",
		0: "The list's 0 of 100 is short of the 90 asked for.",
	} {
		s.Steps, s.Reached = []spend.Bought{at(met, money.Of(6000))}, 1
		assert.Equal(t, want, SpendParagraph(s, 0.9, "T$")[0])
	}
	s.Steps = []spend.Bought{at(999, 0)}
	assert.Equal(t, "Whether the list's over 99 of 100 reaches the 99.9 asked for is too close to tell.", listReaches(s, 0.999, "T$"))
	s.Steps = nil
	assert.Equal(t, "Today's 50 of 100 is short of the 90 asked for.", listReaches(s, 0.9, "T$"))
	s.Start = at(960, 0)
	assert.Equal(t, "The plan as it is, is enough: 90 of 100 were asked for.", listReaches(s, 0.9, "T$"))
}

// A target is said to be reached only where the odds say so beyond chance, after a step and at the end.
func TestSpendingMayReach(t *testing.T) {
	at := func(met, of int) spend.Bought {
		return spend.Bought{Spent: money.Of(4000), Odds: trials.NewOdds(met, of)}
	}
	s := spend.Answer{Cheapest: true, Start: at(500, 1000), Steps: []spend.Bought{at(91, 100), at(960, 1000)}, Reached: 1, Seasons: 1000, Ends: spend.TargetMet}
	assert.Equal(t, "The 90 asked for may be reached after 1 of 2 steps, for T$ 4,000.", listReaches(s, 0.9, "T$"))
	assert.Equal(t, "The list ends because the target is reached.", whyEnds(s, 0.9, "T$"))
	s.Steps = []spend.Bought{at(910, 1000)}
	assert.Equal(t, "The list ends because the target may be reached.", whyEnds(s, 0.9, "T$"))
	s.Steps = []spend.Bought{at(890, 1000)}
	assert.Equal(t, "The list ends because the target is reached in the seasons that choose it.", whyEnds(s, 0.9, "T$"))
}

// A load is dried between its fastest and slowest, and then cools.
func TestLoadByHand(t *testing.T) {
	l := Load{Stalks: 900, MoistureWet: 0.4, SetC: 60, DryingH: 5, Hours: Drawn{4, 6.5, 1000, 0}, Wood: Drawn{15, 40, 1000, 0}, CoolingH: 1.5, WoodKg: 21, EndMoistureWet: 0.14, OverdriedPart: 0.03}
	assert.Equal(t, "900 stalks at 40 % moisture (wet basis) take 5.0 h at 60 °C (4.0 to 6.5 h in 90 of 100 trials), 1.5 h to cool, and about 21 kg of wood (15 to 40 kg).", LoadSentence(l))
	assert.Contains(t, LoadParagraph(l), "The spread is that of 1,000 trials, each with another stalk, dryer and fire, because nobody has measured yours.")
	l.Measured = true
	assert.Contains(t, LoadParagraph(l), "The spread is that of 1,000 trials, each with another stalk, dryer and fire, as far as your own log leaves them open.")
	l.Hours.Never = 12
	assert.Equal(t, "In 12 of 1,000 trials the chamber never dries them.", LoadParagraph(l)[0])
	l.Hours, l.Wood = Drawn{}, Drawn{}
	assert.Equal(t, "900 stalks at 40 % moisture (wet basis) take 5.0 h at 60 °C, 1.5 h to cool, and about 21 kg of wood.", LoadSentence(l), "knowledge is fixed")
	assert.Equal(t, []string{"7 h 30", "0 h 15", "8 h 00"}, []string{QuarterHours(7.52), QuarterHours(0.2), QuarterHours(7.9)})
	assert.Contains(t, LoadParagraph(l), "The stalks come out at 14 % moisture; 3 % of them are below 8 % and brittle, so that some break.")
}
