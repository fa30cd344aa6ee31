package words

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// A change is named as a group would name it, with its places; what has no plain words, and what is
// too much for a sentence, is "the change".
func TestChangesInPlainWords(t *testing.T) {
	for _, tt := range []struct {
		what, short string
		changes     []Change
	}{
		{"a second dryer at Heron Point", "a second dryer", []Change{{"Heron Point.dryers", "1", "2"}}},
		{"a dryer at Old Sluice", "a dryer", []Change{{"Old Sluice.dryers", "", "1"}}},
		{"2 dryers more at Old Sluice", "2 dryers more", []Change{{"Old Sluice.dryers", "1", "3"}}},
		{"2 dryers at Old Sluice", "2 dryers", []Change{{"Old Sluice.dryers", "0", "2"}}},
		{"one dryer more at Old Sluice", "one dryer more", []Change{{"Old Sluice.dryers", "7", "8"}}},
		{"one dryer less at Old Sluice", "one dryer less", []Change{{"Old Sluice.dryers", "3", "2"}}},
		{"4 cutters more at Ferry Bank", "4 cutters more", []Change{{"Ferry Bank.cutters", "6", "10"}}},
		{"1 cutter less at Ferry Bank", "1 cutter less", []Change{{"Ferry Bank.cutters", "6", "5"}}},
		{"40 m² of clear roof more at Ferry Bank", "40 m² of clear roof more", []Change{{"Ferry Bank.clear_roof_m2", "12", "52"}}},
		{"racks at 6 instead of 10 kg/m² at A and B", "racks at 6 instead of 10 kg/m²", []Change{{"A.loading_kg_per_m2", "10", "6"}, {"B.loading_kg_per_m2", "10", "6"}}},
		{"a dryer at 3 sites", "a dryer", []Change{{"A.dryers", "0", "1"}, {"B.dryers", "0", "1"}, {"C.dryers", "0", "1"}}},
		{"sheets over the racks at A", "sheets over the racks", []Change{{"A.sheets", "false", "true"}}},
		{"a shift one hour longer", "a shift one hour longer", []Change{{"dryer.shift_end_h", "19", "20"}}},
		{"a second dryer at A and 4 cutters more at B", "the change", []Change{{"A.dryers", "1", "2"}, {"B.cutters", "6", "10"}}},
		{"the change", "the change", []Change{{"A.sheets", "true", "false"}}},
		{"the change", "the change", []Change{{"dryer.loads_first", "driest", "oldest"}}},
		{"the change", "the change", []Change{{"A.dryers", "1", "2"}, {"B.cutters", "6", "10"}, {"B.open_rack_m2", "6", "10"}}},
		{"the change", "the change", []Change{{"moves[0].dryers", "1", "2"}}},
		{"the change", "the change", nil},
	} {
		c := Compared{Changes: tt.changes}
		assert.Equal(t, []string{tt.what, tt.short, "with " + tt.short}, []string{c.What(), c.Short(), c.With()})
	}
}

// madeUp is a ledger whose year is known by hand: what is cut is paid for in the first month, what
// is sold in the second; luck adds stalks sold to every year of each second future and takes as
// many from the others.
type madeUp struct {
	sells, cuts, hours int
	luck, years        int
}

func (m madeUp) Groups() *sim.Region {
	return &sim.Region{Sites: []sim.Site{{Name: "Heron Point", Cutters: 5, OutputPerPersonH: 1}}}
}

func (m madeUp) Lived() int { return 40 * m.years }

func (m madeUp) Season(p *money.Prices, i int) [][]money.Parts {
	sells := m.sells + m.luck*(1-2*(i/m.years%2))
	return [][]money.Parts{{{money.Cutting: -money.Of(float64(m.cuts) * p.PerStalkCut)}, {money.Sales: money.Of(float64(sells) * p.PerGoodStalk)}}}
}

func (m madeUp) Hours(_, _ int) []float64 { return []float64{float64(m.hours), 0} }

// Ten purchases whose verdicts are known by hand, and what is said of them. Today 1,000 stalks are
// sold at 1 coin a year and 2,000 cut at 0.2, in 600 hours; with a second dryer 1,100 are sold and
// 1,500 cut, in 450 hours. So sales rise by 100 a year, pay falls by 100 and 150 hours are free.
// For hired hands the gain of a year is 200, for members, whose pay it is, 100. The dryer costs
// 1,200, half of which is grant, over four years, without interest: 150 a year. Hired hands: +50.
// Members: -50, and 150 hours free, which breaks even where an hour is worth 1/3 coin.
func TestVerdictsKnownByHand(t *testing.T) {
	base := money.Prices{PerGoodStalk: 1, PerStalkCut: 0.2, GrantShare: 0.5, OpeningCash: money.Of(10_000)}
	hired := base
	hired.Hands = money.Hired
	with := func(p money.Prices, change func(p *money.Prices)) money.Prices {
		change(&p)
		return p
	}
	loan := func(rate float64) money.Prices {
		return with(hired, func(p *money.Prices) { p.LoanShare, p.LoanMonths, p.LoanRate = 0.5, 24, rate })
	}
	const frees = "It pays on average if an hour of yours is worth more than 0.33 coins elsewhere (0.33 to 0.33)."
	cases := []struct {
		name    string
		prices  money.Prices
		luck    int
		verdict money.Verdict
		says    []string
	}{
		{"hired hands: 50 a year", hired, 0, money.PaysInNearlyAll, []string{"It pays in nearly all futures: it loses in none of 20 futures of 4 years.", "and the groups have 50 coins more a year left, the purchase paid."}},
		{"members whose hours are idle: -50 a year", base, 0, money.DoesNotPay, []string{"Counting a member's hour as worth nothing elsewhere, it does not pay: it loses in all", frees, "but each member earns 10 coins less a year, the purchase paid, and works 30 hours less."}},
		{"members whose hours are worth 1: -50 and 150", with(base, func(p *money.Prices) { p.HourWorth = 1 }), 0, money.PaysInNearlyAll, []string{"Counting a member's hour at 1 coin, as stated, it pays in nearly all futures", frees}},
		{"members, the wage of other work 0.2: -50 and 30", with(base, func(p *money.Prices) { p.HourWorth, p.WagePerH = -1, 0.2 }), 0, money.DoesNotPay, []string{"at 0.20 coins, the wage of other work, it does not pay", frees}},
		{"no grant: 200 less 300", with(hired, func(p *money.Prices) { p.GrantShare = 0 }), 0, money.DoesNotPay, []string{"It does not pay: it loses in all", "groups have 100 coins less a year left"}},
		{"a cheap loan: 600 by 24 instalments of 25", loan(0), 0, money.PaysInNearlyAll, []string{"It pays in nearly all futures: it loses in none of 20 futures of 4 years and misses an instalment in none of 20.", "What is bought costs 1,200 coins."}},
		{"a dear loan: 24 instalments of 43.48, 1,043.52 in all", loan(0.6), 0, money.DoesNotPay, []string{"It does not pay", "groups have 61 coins less a year left, the loan paid."}},
		{"no cash when the first instalment is due", with(loan(0), func(p *money.Prices) { p.OpeningCash = 0 }), 0, money.PaysOnAverage, []string{"It pays on average, but misses an instalment in all futures of 4 years."}},
		{"half of the futures 200 better, half 200 worse: 250 and -150", hired, 200, money.CannotBeTold, []string{"Whether it pays cannot be told: it loses in 10 of 20"}},
		{"half of the futures 100 better, half 100 worse: 150 and -50", hired, 100, money.PaysOnAverage, []string{"It pays on average, but loses in 10 of 20 futures of 4 years."}},
	}
	require.Len(t, cases, 10)
	for _, tt := range cases {
		today, then := madeUp{sells: 1000, cuts: 2000, hours: 600, years: 4}, madeUp{sells: 1100, cuts: 1500, hours: 450, luck: tt.luck, years: 4}
		p, err := money.Judge(tt.prices, today, then, 4, []money.Item{{Of: money.Dryer, Size: 1, Site: "Heron Point", Cost: money.Of(1200), Years: 8}})
		require.NoError(t, err)
		assert.Equal(t, tt.verdict, p.Verdict, tt.name)
		c := sample.Comparison()
		c.Purchase, c.Members, c.Cutters = &p, p.Livelihood, tt.prices.Hands.String()
		all := Compared{Result: c, Currency: "coins", Changes: []Change{{"Heron Point.dryers", "1", "2"}}}
		text := CompareSentence(all) + " " + strings.Join(Paragraph([]string{CompareVerdict(all)}, CompareParagraph(all), nil), " ")
		for _, want := range tt.says {
			assert.Contains(t, text, want, tt.name)
		}
		for _, never := range []string{"At any price", "first plan", "second plan", "net present value", "NaN"} {
			assert.NotContains(t, text, never, tt.name)
		}
		if p.Price != nil {
			assert.Positive(t, p.Price.Mean)
		}
		leaves := p.WhatIfs[2]
		require.Equal(t, money.BuyerLeaves, leaves.Change)
		if tt.luck == 0 {
			assert.Equal(t, leaves.NPV.Mean < 0, leaves.Verdict == money.DoesNotPay, "%s: two years of the gain against the whole cost", tt.name)
		}
		if tt.name == cases[0].name {
			assert.Equal(t, []any{-200.0, money.DoesNotPay}, []any{leaves.NPV.Mean, leaves.Verdict}, "the buyer leaves after two years: 2 x 200 less 600")
		}
	}
}

// The paragraph keeps to what a reader takes in, whatever there is to say, and says the verdict
// before all else; what finds no room stands in the notes.
func TestParagraphOfAComparisonIsShort(t *testing.T) {
	c := sample.Comparison()
	failed := trials.NewOdds(30, 200)
	c.Cutters, c.Members = money.Members.String(), sample.Members()
	p := c.Purchase
	p.Funding = money.Funding{Cost: money.Of(6000), Grant: money.Of(1800), Own: money.Of(600), Loan: money.Of(3600), Months: 36, Instalment: money.Of(120)}
	p.NotCovered, p.Verdict, p.Price, p.Positive = &failed, money.DoesNotPay, nil, trials.NewOdds(10, 200)
	p.Gains = []money.PartGain{{Of: money.Sales.String(), Year: sample.Mean(300)}, {Of: money.FreedHours, Year: sample.Mean(600)}, {Of: money.Wood.String(), Year: trials.Mean{Mean: -900, Low: -950, High: -850}}}
	p.YearGain = trials.Mean{Mean: -100, Low: -110, High: -90}
	c.Accounts = []decide.AccountResult{{Site: "Heron Point", Second: true, Lowest: trials.Band{P5: -300, Median: -120}, At: "August"}}
	all := Compared{Result: c, Currency: "coins", Tolerance: 0.05, Changes: []Change{{"Heron Point.dryers", "1", "2"}}}
	assert.Equal(t, "With a second dryer at Heron Point, July is safer (enough in 95 of 100 trial seasons instead of 80), but each member earns 400 coins less a year, own part and loan paid, and works 100 hours less.", CompareSentence(all))
	text := strings.Join(Paragraph([]string{CompareVerdict(all)}, CompareParagraph(all), nil), " ")
	assert.Regexp(t, "^Counting a member's hour at 1 coin, the wage of other work, it does not pay: it loses in 19 of 20 futures of 8 years and misses an instalment in 3 of 20. It pays on average if an hour of yours is worth more than 4 coins elsewhere \\(3.5 to 4.6\\). ", text)
	assert.Contains(t, text, "What it brings most is fewer hours of work; what it takes most is money for wood.")
	w, n := Count(text)
	assert.LessOrEqual(t, w, MostWords)
	assert.LessOrEqual(t, n, MostNumbers)
	c.Unpriced = []money.Item{{Of: money.Cutter, Size: 2, Site: "Heron Point"}}
	all.Result = c
	text = CompareVerdict(all) + strings.Join(CompareParagraph(all), " ")
	assert.Regexp(t, "^Whether it pays cannot be told: no price is stated for 2 cutters at Heron Point", text)
	assert.NotContains(t, text, "does not pay", "no verdict where a price is missing")
	assert.NotContains(t, text, "worth more than")
}

// Where no price of stalks turns the verdict, a sentence says what the gain comes from.
func TestWhatTheGainComesFrom(t *testing.T) {
	gain := func(of string, x float64) money.PartGain {
		m := trials.Mean{Mean: x, Low: x - 1, High: x + 1}
		return money.PartGain{Of: of, Year: m}
	}
	sales, pay, wood := money.Sales.String(), money.Cutting.String(), money.Wood.String()
	for _, tt := range []struct {
		want  string
		gain  float64
		gains []money.PartGain
	}{
		{"The gain comes from less pay for cutting, not from more sales.", 50, []money.PartGain{gain(sales, 0.5), gain(pay, 100), gain(wood, -50)}},
		{"The gain comes from less pay for cutting more than from sales.", 50, []money.PartGain{gain(sales, 30), gain(pay, 100)}},
		{"The gain comes from fewer hours of work, not from more sales.", 50, []money.PartGain{gain(sales, -30), gain(money.FreedHours, 100)}},
		{"The gain comes from more good stalks sold.", 50, []money.PartGain{gain(sales, 30)}},
		{"What it brings most is more good stalks sold; what it takes most is money for wood.", -20, []money.PartGain{gain(sales, 30), gain(wood, -50)}},
		{"It brings nothing that can be told from chance, and it takes money for wood.", -50, []money.PartGain{gain(sales, 0.2), gain(wood, -50)}},
		{"It changes nothing in the money that can be told from chance.", 0, []money.PartGain{gain(sales, 0.2)}},
	} {
		assert.Equal(t, tt.want, driveWords(money.Purchase{YearGain: sample.Mean(tt.gain), Gains: tt.gains}))
	}
	price := sample.Mean(0.1)
	assert.Empty(t, driveWords(money.Purchase{Price: &price, AtMost: &price}), "the table says it")
	for _, part := range append(money.AllParts(), 0) {
		assert.NotEmpty(t, brought[part.String()])
		assert.NotEmpty(t, taken[part.String()])
	}
}

// At which worth of an hour it pays, said for every quarter of money and hours.
func TestWorthOfAnHourInWords(t *testing.T) {
	w := func(mean, low, high float64) *trials.Mean { return &trials.Mean{Mean: mean, Low: low, High: high} }
	for _, tt := range []struct {
		even money.Even
		want string
	}{
		{money.Even{Pays: money.AboveWorth, Worth: w(3.84, 3.2, 4.51)}, "It pays on average if an hour of yours is worth more than 3.8 coins elsewhere (3.2 to 4.5)."},
		{money.Even{Pays: money.AboveWorth, Worth: w(0.5, -0.2, 1.25)}, "It pays on average if an hour of yours is worth more than 0.50 coins elsewhere (0 to 1.25)."},
		{money.Even{Pays: money.AboveWorth, Worth: w(-0.5, -1.2, 0.25)}, "On average it pays whatever an hour of your time is worth, and beyond chance from 0.25 coins on."},
		{money.Even{Pays: money.BelowWorth, Worth: w(12, 10, 15)}, "It pays on average if an hour of yours is worth less than 12 coins elsewhere (10 to 15)."},
		{money.Even{Pays: money.BelowWorth, Worth: w(-1, -3, 1)}, "It takes hours, and brings no money for them that can be told."},
		{money.Even{Pays: money.AnyWorth}, "On average it brings money and frees hours, whatever an hour of your time is worth."},
		{money.Even{Pays: money.NoWorth}, "It takes money and hours: it pays at no worth of an hour."},
		{money.Even{Pays: money.SameHours}, "Hours hardly change, so that what an hour of your time is worth does not decide."},
	} {
		assert.Equal(t, tt.want, evenWords(Compared{Currency: "coins", Result: decide.Comparison{Members: &money.Livelihood{Even: tt.even}}}))
	}
	assert.Empty(t, evenWords(Compared{}))
}

// Who runs out of cash without the purchase too is told so, and who pays nothing for it is not
// spoken of; how often the money comes back says none and all.
func TestCashAndPaybackInWords(t *testing.T) {
	c := sample.Comparison()
	p := c.Purchase
	p.Cash = []money.SiteCash{{Site: "A", Below: trials.NewOdds(180, 200)}, {Site: "B", Below: trials.NewOdds(20, 200)}, {Site: "A", Second: true}, {Site: "B", Second: true, Funding: &p.Funding}}
	c.Accounts = []decide.AccountResult{{Site: "A", Second: true, Lowest: trials.Band{P5: -900}, At: "May"}, {Site: "B", Second: true, Lowest: trials.Band{P5: -300}, At: "June"}}
	all := Compared{Result: c, Currency: "coins"}
	assert.Equal(t, "In one first year of twenty the cash of B falls to -300 coins or lower, most often in June.", lowCash(all))
	p.Cash[1].Below = trials.NewOdds(180, 200)
	assert.Equal(t, "Even without the purchase cash falls below nothing in most futures.", lowCash(all))
	back := func(never int) string {
		p.Never = trials.NewOdds(never, 200)
		return purchaseNotes(*p, all)[1].Says
	}
	assert.Regexp(t, "^In all 200 futures the money comes back and stays back within the 8 years, half the time", back(0))
	assert.Regexp(t, "^In 180 of 200 futures the money comes back and stays back within the 8 years, half the time .*; in 20 it does not", back(20))
	p.PaysIn = trials.Band{P5: 6, Median: 67, P95: 80, Seasons: 19}
	assert.Regexp(t, "^In 19 of 200 futures the money comes back and stays back within the 8 years, after 6 months to 6.7 years; in 181 it does not.", back(181), "of a handful no median and no spread")
	p.PaysIn.Seasons = 20
	assert.Contains(t, back(180), "half the time within 5.6 years")
	p.PaysIn = trials.Band{P5: 6, Median: 6, P95: 6, Seasons: 1}
	assert.Contains(t, back(199), "within the 8 years, after 6 months; in 199 it does not.")
	p.PaysIn.Seasons = 0
	assert.Equal(t, "In none of 200 futures does the money come back and stay back within the 8 years.", back(200))
	p.Verdict = money.DoesNotPay
	assert.Contains(t, fmt.Sprint(purchaseNotes(*p, all)), "Reasons: what it brings is worth less than what it costs.")
}

// Cash that is low before the purchase is bought is none of its doing.
func TestCashWithoutThePurchaseIsNotItsDoing(t *testing.T) {
	c := sample.Comparison()
	p := c.Purchase
	p.Cash = []money.SiteCash{{Site: "B", Below: trials.NewOdds(20, 200)}, {Site: "B", Second: true, Funding: &p.Funding}}
	c.Accounts = []decide.AccountResult{{Site: "B", Lowest: trials.Band{P5: -900}, At: "May"}, {Site: "B", Second: true, Lowest: trials.Band{P5: 100}, At: "June"}}
	assert.Empty(t, lowCash(Compared{Result: c, Currency: "coins"}))
}

// Money that comes back in as many futures as end above nothing needs no word about interest; fewer, or none,
// do. Times that come out alike are said once.
func TestMoneyBackAndYetLostInWords(t *testing.T) {
	p := money.Purchase{Futures: 200, Never: trials.NewOdds(20, 200), Positive: trials.NewOdds(180, 200)}
	assert.Empty(t, backAndLost(p))
	p.Positive = trials.NewOdds(179, 200)
	assert.Equal(t, "With interest and the wait counted, only 179 of 200 futures end above nothing.", backAndLost(p))
	p.Positive = trials.NewOdds(0, 200)
	assert.Equal(t, "With interest and the wait counted, none of 200 futures ends above nothing.", backAndLost(p))
	assert.Equal(t, "between 5 and 7 months", monthsSpan(5, 7))
	assert.Equal(t, "in 5 months", monthsSpan(5, 5))
}

// Futures are counted by twenties, and what is neither none nor all is never called so.
func TestOfTwenty(t *testing.T) {
	for met, want := range map[int]string{0: "none of 20", 1: "fewer than 1 of 20", 44: "4 of 20", 196: "more than 19 of 20", 199: "more than 19 of 20", 200: "all"} {
		assert.Equal(t, want, ofTwenty(met, 200))
	}
}

// A free change says what it does to members, and without prices what it does to the stalks.
func TestFreeAndUnpricedChanges(t *testing.T) {
	c := sample.Comparison()
	c.Purchase, c.Cutters, c.Members = nil, money.Members.String(), sample.Members()
	all := Compared{Result: c, Currency: "coins", Changes: []Change{{"A.loading_kg_per_m2", "10", "6"}}}
	assert.Equal(t, "With racks at 6 instead of 10 kg/m² at A, July is safer (enough in 95 of 100 trial seasons instead of 80), but each member earns 400 coins less a year and works 100 hours less.", CompareSentence(all))
	assert.Equal(t, "It costs nothing; counting a member's hour at 1 coin, the wage of other work, members are together worse off by 1,800 coins a year (1,750 to 1,850).", CompareVerdict(all))
	c.Members.AtWorths = []money.AtWorth{{Gain: sample.Mean(100)}}
	c.Members.Worth = 0
	assert.Equal(t, "It costs nothing; counting a member's hour as worth nothing elsewhere, members are together better off by 100 coins a year (98 to 102).", CompareVerdict(all))
	c.Members.AtWorths[0].Gain = trials.Mean{Mean: 1, Low: -2, High: 4}
	assert.Equal(t, "It costs nothing; counting a member's hour as worth nothing elsewhere, members are as well off as today, as far as can be told.", CompareVerdict(all))
	c.Members, c.Cutters = nil, ""
	all.Result = c
	assert.Equal(t, "With racks at 6 instead of 10 kg/m² at A, July is safer (enough in 95 of 100 trial seasons instead of 80), and 12,000 more good stalks are delivered in a season.", CompareSentence(all))
	assert.Equal(t, "No prices are stated: nothing is said of money.", CompareVerdict(all))
	c.Totals[0].More = trials.Mean{Mean: 100, Low: -20, High: 220}
	assert.Contains(t, CompareSentence(all), ", and about as many good stalks are delivered in a season.")
}

// What each member earns on average stands with its ends where members of one site earn more and those of
// another less, and only there.
func TestMembersOfSitesApart(t *testing.T) {
	site := func(name string, more, by float64) money.Livelihood {
		return money.Livelihood{Site: name, EachMoney: money.Pair{More: trials.Mean{Mean: more, Low: more - by, High: more + by}}}
	}
	m := &money.Livelihood{MembersA: 9, MembersB: 9, EachMoney: money.Pair{More: sample.Mean(274)}, Sites: []money.Livelihood{
		site("Reed Bay", -753, 20), site("Mill Creek", 1559, 20), site("Stone Weir", -90, 20), site("Old Sluice", -900, 1000),
	}}
	c := Compared{Result: decide.Comparison{Members: m}, Currency: "shells"}
	said, better, _ := theirWords(c)
	assert.Equal(t, "each member earns 274 shells more a year on average, from 753 less at Reed Bay to 1,559 more at Mill Creek, and works as many hours as today", said)
	assert.Equal(t, 1, better)
	m.EachMoney.More = trials.Mean{Mean: 3, Low: -10, High: 16}
	said, _, _ = theirWords(c)
	assert.Equal(t, "each member earns about the same on average, from 753 less at Reed Bay to 1,559 more at Mill Creek, and works as many hours as today", said)
	m.Sites = m.Sites[1:2]
	said, _, _ = theirWords(c)
	assert.Equal(t, "each member earns about the same and works as many hours as today", said)
	m.Sites = append(m.Sites, site("Reed Bay", -5, 9))
	assert.Empty(t, sitesApart(m), "what may be chance sets nobody apart")
}

// A paper says of the changes that leave the verdict as it is that they do, and never that they would bring it.
func TestWhatLeavesTheVerdict(t *testing.T) {
	p := money.Purchase{Verdict: money.DoesNotPay, WhatIfs: []money.WhatIf{
		{Change: money.PaysLess, Verdict: money.DoesNotPay}, {Change: money.WoodTwice, Verdict: money.DoesNotPay}, {Change: money.SecondGoes, Verdict: money.PaysOnAverage},
	}}
	said := func() []string { return whatIfs(Compared{Result: decide.Comparison{Purchase: &p}}) }
	assert.Equal(t, []string{"It pays on average, with a risk, if nobody buys second grade.", "The verdict stays the same if the buyer pays a fifth less or wood costs twice as much."}, said())
	p.Verdict = money.PaysInNearlyAll
	assert.Equal(t, []string{"It does not pay if the buyer pays a fifth less or wood costs twice as much.", "It pays on average, with a risk, if nobody buys second grade."}, said())
}
