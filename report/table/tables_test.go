package table

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/charge"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/stalk"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

// under returns what stands under a heading in a row. Headings that a table has twice are
// told apart by skip.
func under(t *testing.T, table Table, row int, head string, skip int) string {
	t.Helper()
	for i, h := range table.Head {
		if h == head {
			if skip == 0 {
				return table.Rows[row][i].Text
			}
			skip--
		}
	}
	t.Fatalf("no heading %q in %q", head, table.Head)
	return ""
}

// row returns what stands beside the first cell of a row.
func row(t *testing.T, table Table, first string) []string {
	t.Helper()
	for _, r := range table.Words() {
		if r[0] == first {
			return r[1:]
		}
	}
	t.Fatalf("no row %q in %q", first, table.Words())
	return nil
}

// compared is a comparison in which no two figures are alike.
func compared() words.Compared {
	band := func(low, median, high float64) trials.Band {
		return trials.Band{P5: low, Median: median, P95: high, Seasons: 1000}
	}
	c := sample.Comparison()
	c.Purchase.Positive, c.Purchase.BeforeEnd, c.Purchase.NPVBand = trials.NewOdds(150, 200), trials.NewOdds(110, 200), band(-700, 2400, 5100)
	c.Accounts = []decide.AccountResult{{
		Site: "Heron Point", Second: true, Lowest: band(-300, 120, 900), At: "August", Uncovered: trials.Mean{Mean: 1.5, Low: 1.2, High: 1.8},
		Months: []decide.Balance{{Month: "June", Cash: band(40, 75, 99)}},
	}}
	c.Dryers = []decide.DryerUse{{Site: "Old Sluice", Dryer: 3, Second: true, Hours: []decide.Spent{{On: sim.DryerFiring.Figure(), Hours: sample.Mean(1000)}}}}
	return words.Compared{
		Region: "Here", Result: sample.WithStates(c), Currency: "T$",
		Changes: []words.Change{{Key: "Heron Point.dryers", A: "1", B: "2"}}, Outside: []words.Change{{Key: "gate.refused", A: "", B: "0.1"}},
	}
}

// What is today stands under "today", what would be under "with ...", in every table of a comparison.
func TestPlansStandUnderTheirHeadings(t *testing.T) {
	c := compared()
	changes := Changes(c)
	assert.Equal(t, []string{"1", "2"}, row(t, changes, "Heron Point.dryers"))
	assert.Equal(t, []string{"not stated", "0.1"}, row(t, changes, "gate.refused (outside the plan)"))
	totals := Differences(c, "x", c.Result.Totals)
	assert.Equal(t, "100,000", under(t, totals, 0, "today", 0))
	assert.Equal(t, "112,000", under(t, totals, 0, "with a second dryer", 0))
	assert.Equal(t, "+12,000 (+11,760 to +12,240)", under(t, totals, 0, "difference", 0))
	months := MonthDifferences(c)
	assert.Equal(t, "80 % (77 to 82 %)", under(t, months, 0, "met in, today", 0))
	assert.Equal(t, "95 % (93 to 96 %)", under(t, months, 0, "met in, with a second dryer", 0))
	assert.Equal(t, "+15 (+12 to +18)", under(t, months, 0, "gain, points", 0))
	assert.Equal(t, [][6]string{
		{"June", "60,000", "90 % (88 to 92 %)", "60,000", "99 % (98 to over 99 %)", ""},
		{"July", "60,000", "80 % (77 to 82 %)", "60,000", "95 % (93 to 96 %)", "+5,000 (+4,900 to +5,100)"},
	}, SideBySide(c.Result))
	c.Result.A.Months, c.Result.B.Months = c.Result.A.Months[:1], c.Result.B.Months[1:]
	c.Result.Months = nil
	assert.Equal(t, [][6]string{
		{"June", "60,000", "90 % (88 to 92 %)", "not asked", "not asked", ""},
		{"July", "not asked", "not asked", "60,000", "95 % (93 to 96 %)", ""},
	}, SideBySide(c.Result), "a month that one contract asks for")
	hours := DryerHours(c)
	assert.Equal(t, "1,000 (980 to 1,020)", under(t, hours, 0, "with a second dryer: Old Sluice, dryer 3", 0))
	assert.Len(t, hours.Rows, 1, "a state in which no dryer was is no row")
	assert.Equal(t, "with a second dryer", under(t, Accounts(c), 0, "plan", 0))
	assert.Equal(t, "75", under(t, Cash(c), 0, "with a second dryer: Heron Point, median", 0))
}

// What a purchase costs, gains and risks; a grant is not the own part, a bad season not a
// middling one, and what would be is not what is.
func TestMoneyOfAPurchase(t *testing.T) {
	c := compared()
	p := Purchase(*c.Result.Purchase, "T$")
	for first, want := range map[string]string{
		"verdict": "pays in nearly all futures", "nearly all futures are": "19 of 20 above nothing, and every instalment covered in 19 of 20",
		"cost": "T$ 6,000", "of that grant": "T$ 2,000", "net present value, after own part and loan": "T$ 2,500 (2,450 to 2,550)", "net present value, 5 to 95 % of futures": "-700 to 5,100",
		"futures that end above nothing": "75 % (68 to 81 %)", "futures in which the money is not back for good within 8 years": "10 % (6 to 15 %)", "the same, spread evenly over the years": "T$ 470 (461 to 479)",
		"back after, median of the futures in which it does": "2.5 years", "5 to 95 % of those": "12 months to 6.7 years",
		"breaks even at a price of a good stalk": "T$ 0.1000 (0.0980 to 0.1020)", "breaks even at a cost of the purchase": "T$ 8,000 (7,840 to 8,160)",
	} {
		assert.Equal(t, []string{want}, row(t, p, first), first)
	}
	whatIf := WhatIf(*c.Result.Purchase, "T$")
	assert.Equal(t, []string{"pays in nearly all futures", "75 % (68 to 81 %)", "-700 to 5,100", "2,500 (2,450 to 2,550)", "10 % (6 to 15 %)", "2.5 years"}, row(t, whatIf, "as stated"))
	assert.Equal(t, []string{"does not pay", "40 % (33 to 47 %)", "-900 to 800", "1,000 (980 to 1,020)", "15 % (10 to 21 %)", "-"}, row(t, whatIf, words.WhatIf(c.Result.Purchase.WhatIfs[0].Change)))
	accounts := Accounts(c)
	assert.Equal(t, "120", under(t, accounts, 0, "lowest, median, T$", 0))
	assert.Equal(t, "-300 to 900", under(t, accounts, 0, "5 to 95 % of seasons", 0))
	assert.Equal(t, "1.50 (1.20 to 1.80)", under(t, accounts, 0, "instalments not covered in the year", 0))
	assert.Equal(t, "40", under(t, Cash(c), 0, "one of twenty below", 0))
	items := Items(money.Purchase{Items: []money.Item{{Of: money.Dryer, Size: 1, Site: "Heron Point", Cost: money.Of(5200), Years: 8}}}, "T$")
	assert.Equal(t, "5,200", under(t, items, 0, "cost, T$", 0))
	assert.Equal(t, "8", under(t, items, 0, "lasts, years", 0))
}

// The cash of the years stands under its headings: with the purchase is not without it, the end of
// a year not its lowest; where nothing is borrowed no instalment is spoken of.
func TestCashOfTheYearsStandsUnderItsHeadings(t *testing.T) {
	band := func(low, median, high float64) trials.Band {
		return trials.Band{P5: low, Median: median, P95: high, Seasons: 200}
	}
	failed := trials.NewOdds(30, 200)
	p := money.Purchase{
		Futures: 200, Years: 8, Funding: money.Funding{Cost: money.Of(6000), Grant: money.Of(2000), Own: money.Of(500), Loan: money.Of(3500), Months: 36}, NotCovered: &failed,
		WhatIfs: []money.WhatIf{{Change: money.WoodTwice, NotCovered: &failed}},
	}
	p.Cash = []money.SiteCash{
		{Site: "Old Sluice", Lowest: band(1, 2, 3), Below: trials.NewOdds(6, 200), Years: []money.CashYear{{Year: 1, End: band(10, 20, 30), Lowest: band(4, 5, 6), Shared: band(1, 7, 9)}}},
		{Site: "Old Sluice", Second: true, Funding: &p.Funding, Lowest: band(-7, 8, 9), Below: trials.NewOdds(40, 200), NotCovered: &failed, Years: []money.CashYear{{Year: 1, End: band(40, 50, 60), Lowest: band(-70, 80, 90), Shared: band(1, 3, 9), NotCovered: &failed}}},
	}
	over := CashOverYears(p, "T$")
	assert.Equal(t, [][]string{
		{"Old Sluice", "without", "-", "-", "2", "1 to 3", "3 % (1 to 6 %)", "-"},
		{"Old Sluice", "with the purchase", "500", "3,500", "8", "-7 to 9", "20 % (15 to 26 %)", "15 % (10 to 21 %)"},
	}, over.Words())
	years := CashByYear(p, "T$")
	assert.Equal(t, [][]string{{"Old Sluice", "1", "20", "7", "4", "50", "3", "-70", "15 % (10 to 21 %)"}}, years.Words())
	bought := Purchase(p, "T$")
	assert.Equal(t, []string{"T$ 500"}, row(t, bought, "own part, paid in cash before the first season"))
	assert.Equal(t, []string{"T$ 3,500"}, row(t, bought, "borrowed"))
	assert.Equal(t, []string{"15 % (10 to 21 %)"}, row(t, bought, "futures in which an instalment is not covered"))
	assert.Equal(t, "15 % (10 to 21 %)", under(t, WhatIf(p, "T$"), 1, "an instalment is not covered in", 0))
	p.NotCovered = nil
	assert.NotContains(t, fmt.Sprint(Purchase(p, "T$").Words()), "an instalment is not covered")
	assert.Len(t, WhatIf(p, "T$").Head, 7)
}

// What members have of both plans stands under its headings, and at which worth of an hour it pays.
func TestMembersStandUnderTheirHeadings(t *testing.T) {
	c := compared()
	c.Result.Members, c.Result.Cutters = sample.Members(), money.Members.String()
	m := Members(c)
	assert.Equal(t, []string{"T$", "24,000", "22,200", "-1,800 (-1,836 to -1,764)"}, row(t, m, "pay for work and what is left over"))
	assert.Equal(t, []string{"T$", "24,000", "21,600", "-2,400 (-2,448 to -2,352)"}, row(t, m, "the same, own part and loan paid"))
	assert.Equal(t, []string{"person-h", "4,800", "4,200", "-600 (-612 to -588)"}, row(t, m, "hours of work"))
	assert.Equal(t, []string{"T$", "5", "5.1", "+0.14 (+0.14 to +0.14)"}, row(t, m, "money of an hour"))
	assert.Equal(t, []string{"T$", "4,000", "3,600", "-400 (-408 to -392)"}, row(t, m, "money of each member"))
	assert.Equal(t, []string{"h", "800", "700", "-100 (-102 to -98)"}, row(t, m, "hours of each member"))
	assert.Equal(t, "with a second dryer", m.Head[3])
	assert.Contains(t, m.Title, "200 futures of 8 years")
	assert.Equal(t, [][]string{
		{"0", "-2,400 (-2,450 to -2,350)", "1 % (under 1 to 4 %)", "does not pay"},
		{"1, the wage of other work", "-1,800 (-1,850 to -1,750)", "5 % (2 to 9 %)", "does not pay"},
		{"4 (3.5 to 4.6)", "0", "-", "pays on average if an hour is worth more"},
	}, AtWorths(c).Words())
	c.Result.Members.Even.Worth = &trials.Mean{Mean: 0.71, Low: -0.48, High: 1.95}
	assert.Equal(t, "0.71 (0 to 1.95)", AtWorths(c).Words()[2][0], "as the sentence says it: no hour is worth less than nothing")
	c.Result.Members.Stated, c.Result.Members.Even = true, money.Even{Pays: money.NoWorth}
	assert.Equal(t, "1, as stated", AtWorths(c).Words()[1][0])
	assert.Equal(t, []string{"no worth of an hour turns it", "-", "-", "takes money and hours"}, AtWorths(c).Words()[2])
	site := *sample.Members()
	site.Site = "Old Sluice"
	c.Result.Members.Sites = []money.Livelihood{site}
	assert.Equal(t, []string{"4,000", "3,600", "-400 (-408 to -392)", "800", "700", "-100 (-102 to -98)"}, row(t, MembersBySite(c), "Old Sluice"))

	c.Result.Money = []decide.Difference{{Of: money.Cutting.String(), A: sample.Mean(-5), B: sample.Mean(-3)}, {Of: money.Wood.String(), A: sample.Mean(-5)}}
	pay := Differences(c, "Money", c.Result.Money)
	assert.Equal(t, []string{"pay for cutting (to members)", "wood"}, []string{pay.Words()[0][0], pay.Words()[1][0]})
	c.Result.Cutters = money.Hired.String()
	assert.Equal(t, "pay for cutting", Differences(c, "Money", c.Result.Money).Words()[0][0])
	gains := Gains(money.Purchase{Gains: []money.PartGain{{Of: money.FreedHours, Year: sample.Mean(600)}, {Of: money.Rent.String()}}}, "T$")
	assert.Equal(t, [][]string{{"hours of members freed, at their worth", "+600 (+588 to +612)"}}, gains.Words())
}

// The sum to fund stands under its headings, and the heading of the money says what a grant pays.
func TestSumToFundStandsUnderItsHeadings(t *testing.T) {
	a := decide.Answer{Money: sample.Earned(3)}
	assert.Equal(t, [][]string{{"0", "0", "0", "0", "0", "0", "0", "0"}, {"1", "1", "6,000", "3,000", "600", "2,400", "80", "36"}, {"2", "2", "12,000", "6,000", "1,200", "4,800", "159", "36"}}, ToFund(a, "T$").Words())
	assert.Contains(t, Earns(a, "T$").Title, "the dryers included but for the 50 % that a grant pays")
}

// The nested order stands under its headings, with what is funded so far, and what is met more
// with what it costs; where it cannot be told it is not.
func TestPhasesAndWhatIsMetMore(t *testing.T) {
	a := sample.Answer()
	p := Phases(a, "T$")
	assert.Equal(t, []string{"2", "North Landing", "July", "77 % (74 to 80 %)", "76 % (73 to 79 %)", "+2 (+2 to +2)", "1,000", "12,000"}, p.Words()[1])
	assert.Len(t, p.Head, 8)
	assert.Equal(t, "0", p.Words()[2][5])
	assert.Equal(t, "Best placement of each number in 120 search seasons; others may do as well", Where(a).Title)
	assert.Equal(t, "3 (enough)", Dryers(a).Words()[3][0])
	a.Proof.Enough = -1
	assert.Equal(t, "3 (may do)", Dryers(a).Words()[3][0], "what is not proven only may")
	m := More(a, "T$")
	assert.Equal(t, []string{"2", "4,000", "1.6", "60,000", "2,500", "2,450 to 2,550", "0.0667", "0.0654 to 0.0680", "1,000"}, m.Words()[1])
	assert.Len(t, m.Rows, 4)
	assert.Contains(t, m.Title, "than with 0 dryers")
	a.Money[1].More.PerMonth.High = math.Inf(1)
	assert.Equal(t, []string{"cannot be told", "cannot be told"}, More(a, "T$").Words()[0][4:6])
	a.Plans, a.Money = a.Plans[1:], nil
	assert.Equal(t, "Best placement of each number in 120 search seasons, those kept that stand already; others may do as well", Where(a).Title)
	assert.Len(t, Phases(a, "T$").Head, 7, "without prices nothing is funded")
}

// The ledger of a season stands under its headings, with the largest reason for what was not cut.
func TestSeasonStandsUnderItsHeadings(t *testing.T) {
	hub := Hub([]sim.HubMonth{
		{Month: time.July, Opening: 1, Arrived: 2, RefusedAtGate: 3, Spoiled: 9, Asked: 40, Delivered: 35, MadeGood: 6, Closing: 7},
		{Month: time.August, Asked: 5, Delivered: 5, Met: true},
		{Month: time.September},
	})
	assert.Equal(t, []string{"1", "2", "3", "9", "40", "35", "6", "7", "no"}, row(t, hub, "July"))
	assert.Equal(t, "yes", under(t, hub, 1, "met", 0))
	assert.Equal(t, "-", under(t, hub, 2, "met", 0), "no contract is neither met nor missed")
	site := Site(sim.SiteLedger{Site: "Stone Weir", Dryers: 1, Months: []sim.SiteMonth{{
		Opening: 11, Cut: 1000, ToHub: 900, Second: 100, Closing: 12, Charges: 4, FiringH: 33, WoodKg: 210, NotCutRain: 50, NotCutPeople: 49,
	}}}, []sim.HubMonth{{Month: time.July}})
	for head, want := range map[string]string{"at start": "11", "cut": "1,000", "to hub": "900", "at end": "12", "charges": "4", "fire h": "33", "wood kg": "210", "not cut": "50 rain"} {
		assert.Equal(t, want, under(t, site, 0, head, 0), head)
	}
	days := Days("Stone Weir", []sim.SiteDay{{}, {
		Day: 1, RainMM: 12.5, Cut: 1, OnRacks: 2, InHeap: 3, InDryers: 4, InStore: 5, ToHub: 6, Lost: 7, Charges: 8, Mould: 1.5, NotCut: 9, Why: sim.NotCutPeople, Short: sim.LacksWood,
	}}, 1, 1, func(int) string { return "2 Jul" })
	assert.Equal(t, []string{"12.5", "1", "2", "3", "4", "5", "6", "7", "8", "1.5", "9 people at other work", "wood"}, row(t, days, "2 Jul"))
}

// Shares of the flow are of all that was cut or in stock; rain has its mean before its median;
// what never happens is no row.
func TestPlanTables(t *testing.T) {
	p := sample.Plan(3, []int{1, 1, 1}, 990, 934)
	p.Flow = sample.Flow(map[sim.FigureID]float64{sim.Opening: 100_000, sim.Cut: 100_000, sim.WoodKg: 4200}, 150_000)
	assert.Equal(t, []string{"150,000", "147,000 to 153,000", "75 %"}, row(t, Flow(p), "delivered"))
	p.Rain = []decide.RainMonth{{Name: "July", Mean: sample.Mean(300), MM: trials.Band{P5: 100, Median: 250, P95: 700}}}
	assert.Equal(t, []string{"300", "250", "100 to 700"}, row(t, Rain(p), "July"))
	assert.NotContains(t, Rain(p).Title, " at ")
	p.RainAt = "Heron Point"
	assert.Contains(t, Rain(p).Title, " seasons at Heron Point (mm a month)")
	assert.Equal(t, [][]string{{"charges", "0", "0 to 0"}, {"wood, kg", "4,200", "4,116 to 4,284"}}, Work(p).Words())
}

// What to buy, what it costs and what it does; what one step more does for a hundred.
func TestContractAndSpending(t *testing.T) {
	s := spend.Answer{
		Steps: []spend.Bought{{
			Site: "Heron Point", What: []spend.Quantity{{Of: spend.Dryers, Size: 1}}, Cost: money.Of(300), Spent: money.Of(6300), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(930, 1000)},
			Gain: trials.Mean{Mean: -0.02, Low: -0.04, High: 0.01}, Fewer: trials.Mean{Mean: 900, Low: 700, High: 1200},
		}},
		Marginal: []spend.Marginal{{Site: "Old Sluice", What: spend.Quantity{Of: spend.Dryers, Size: 1}, Cost: money.Of(400), Gain: 0.03, Fewer: 800}},
	}
	assert.Equal(t, []string{"Heron Point", "300", "6,300", "July", "93 % (91 to 95 %)", "-2 (-4 to +1)", "900 (700 to 1,200)"}, row(t, Spending(s, "T$"), "1 dryer"))
	assert.Equal(t, []string{"Old Sluice", "400", "+3", "800", "200"}, row(t, Marginal(s, "T$"), "1 dryer"))
	idle := s
	idle.Steps = slices.Clone(s.Steps)
	idle.Steps[0].Fewer.Low = -10
	assert.Equal(t, "Heron Point", row(t, Spending(idle, "T$"), "1 dryer (may do nothing)")[0], "neither gain can be told from chance")
	assert.Equal(t, "300", row(t, SpendBrief(idle, "T$"), "1 dryer at Heron Point (may do nothing)")[0])
	s.Marginal = append(s.Marginal, spend.Marginal{What: spend.Quantity{Of: spend.Dryers, Size: 1}, Cost: money.Of(80)})
	assert.Len(t, Marginal(s, "T$").Rows, 2)
	assert.Empty(t, Marginal(spend.Answer{Marginal: s.Marginal[1:]}, "T$").Rows, "steps that do nothing fill no table")
	few := s
	few.Seasons, few.LineSeasons, few.Steps = 1000, 200, slices.Clone(s.Steps)
	few.Steps[0].Odds = trials.NewOdds(186, 200)
	assert.Equal(t, "200", row(t, Spending(few, "T$"), "1 dryer")[7], "each line says its seasons where they differ")
	assert.Contains(t, Spending(few, "T$").Title, "gains in the first 200 of them")
	s.Budget, s.After, s.All = money.Of(7000), trials.Mean{Mean: 2000, Low: 1900, High: 2100}, []spend.InAll{{Of: spend.Dryers, PerSite: []float64{1, 0}}}
	s.Sites, s.Steps[0].All = []string{"Heron Point"}, trials.NewOdds(900, 1000)
	none := spend.Answer{Budget: money.Of(50), Start: spend.Bought{Worst: decide.MonthResult{Name: "June", Odds: trials.NewOdds(500, 1000)}, All: trials.NewOdds(400, 1000)}, After: trials.Mean{Mean: 10, Low: 5, High: 15}}
	side := Budgets([]spend.Answer{none, s}, "T$")
	assert.Equal(t, []string{"1 dryer (at Heron Point)", "July", "6,300", "93 % (91 to 95 %)", "90 % (88 to 92 %)", "2,000 (1,900 to 2,100)"}, row(t, side, "7,000"))
	assert.Equal(t, []string{"nothing", "June", "0", "50 % (47 to 53 %)", "40 % (37 to 43 %)", "10 (5 to 15)"}, row(t, side, "50"))
	more := s
	more.Budget = money.Of(9000)
	all := s.Steps[0]
	all.Worst.Odds = trials.NewOdds(1000, 1000)
	more.Steps = []spend.Bought{all}
	side = Budgets([]spend.Answer{none, s, more}, "T$")
	assert.Equal(t, "left over when members are paid, T$", side.Head[6], "as the other tables name it")
	assert.Equal(t, []string{"the same as for 7,000", "none missed"}, row(t, side, "9,000")[:2])
	assert.Equal(t, "the same as for 7,000", row(t, BudgetsBrief([]spend.Answer{none, s, more}, "T$"), "9,000")[0])
	assert.Equal(t, Spending(s, "T$").Title+", with T$ 7,000", Spending(s, "T$").With(s.Budget, "T$").Title)
	s.Dropped = []spend.Dropped{{Site: "Old Sluice", What: []spend.Quantity{{Of: spend.Cutters, Size: 2}}, Cost: money.Of(400), Gain: trials.Mean{Mean: -0.02, Low: -0.03, High: -0.01}, Fewer: trials.Mean{Mean: -90, Low: -120, High: -60}, Harm: true}}
	assert.Equal(t, []string{"Old Sluice", "harm", "400", "-2 (-3 to -1)", "-90 (-120 to -60)"}, row(t, Dropped(s, "T$"), "2 cutters"))
	promise := Promise(decide.Promise{Months: []decide.Promised{{Name: "April", Stalks: 74_000, Odds: trials.NewOdds(180, 200)}}})
	assert.Equal(t, []string{"74,000", "90 % (85 to 94 %)"}, row(t, promise, "April"))
}

// The record stands beside what is simulated, each under its heading.
func TestWeatherTables(t *testing.T) {
	fit := Fit(weather.FitReport{Lines: []weather.Line{
		{Name: "mean rain of Jul", Unit: "mm", Observed: 2000, Simulated: 610, Low: 500, High: 700, Weight: true, Tolerance: 300, Shows: 143, State: weather.Fails},
		{Name: "spread of the rain of Jul", Unit: "mm", Observed: 200, Simulated: 210, Low: 150, High: 250, Inside: true},
	}})
	assert.Equal(t, []string{"mm", "2,000", "610", "500 to 700", "no", "300", "143", "differs by more than matters"}, row(t, fit, "mean rain of Jul"))
	assert.Equal(t, []string{"mm", "200", "210", "150 to 250", "yes", "-", "-", "-"}, row(t, fit, "spread of the rain of Jul"))
	s := weather.Summary{}
	s.RainMM[6], s.RainDays[6] = 612.4, 21.3
	assert.Equal(t, []string{"612", "21.3"}, row(t, Record(s), "July"))
	y := decide.YearsResult{
		Draws: 20, Names: []string{"June", "July"},
		Months: []decide.MonthAgrees{{Name: "July", Real: trials.Mean{Mean: 0.5, Low: 0.37, High: 0.63}, Generator: trials.NewOdds(900, 1000), PValue: 0.0123, Shows: 0.091}},
		Years:  []decide.YearResult{{Year: 1961, Shares: []float64{0.95, 0.4}, All: 0.35, Missing: 1200.4, MostLost: sim.Second, LostCount: 3400.2}},
	}
	assert.Equal(t, []string{"50 % (37 to 63 %)", "90 % (88 to 92 %)", "0.0123", "9 %"}, row(t, YearMonths(y), "July"))
	years := Years(y)
	assert.Equal(t, []string{"year", "June", "July", "all months", "stalks missing", "most lost to"}, years.Head)
	assert.Equal(t, []string{"95 %", "40 %", "35 %", "1,200", "3,400 second grade"}, row(t, years, "1961"))
	assert.Contains(t, years.Title, "share of 20 draws")
}

// The course of a load gives the mean stalk and the slow one, on the wet basis.
func TestLoadTable(t *testing.T) {
	load := Load([]charge.Point{{H: 0.5, TempC: 61, MeanMoisture: stalk.WetBasis(0.4).DryBasis(), SlowMoisture: stalk.WetBasis(0.5).DryBasis(), WoodKg: 3.25}})
	assert.Equal(t, [][]string{{"0.5", "61", "40", "50", "3.2"}}, load.Words())
}

// Full loads by moisture, with the range over draws, and without it where knowledge is fixed.
func TestFullLoads(t *testing.T) {
	fresh := FullLoad{MoistureWet: 0.91, Stalks: 1000, LoadedKg: 65, DryingH: 7.52, LowH: 6.1, HighH: 10.44, WoodKg: 50.4, LowWood: 33.6, HighWood: 91}
	drawn := FullLoads([]FullLoad{fresh, {MoistureWet: 0.41, Stalks: 1500, LoadedKg: 14.9, DryingH: 2.42, WoodKg: 7.8}})
	assert.Equal(t, [][]string{{"91", "1,000", "65", "7.5 (6.1 to 10.4)", "50 (34 to 91)"}, {"41", "1,500", "15", "2.4", "8"}}, drawn.Words())
	assert.True(t, drawn.Rows[0][3].Ranged())
	assert.False(t, drawn.Rows[1][3].Ranged())
}
