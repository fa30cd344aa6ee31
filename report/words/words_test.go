package words

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

func TestSentences(t *testing.T) {
	a := sample.Answer()
	assert.Equal(t, "3 dryers (one each at North Landing, Heron Point and Old Sluice) are enough: the worst month, July, is met in 93 of 100 trial seasons (92 to 95); 90 were asked for.", DryersSentence(a))
	assert.Equal(t, "With 2 it is 79 % (76 to 81 %) (July); with 4 it would be 97 % (96 to 98 %) (July).", neighbours(a))
	assert.Equal(t, []string{"It may take 2 dryers if stalks mould more slowly than assumed, and 4 if stalks mould faster than assumed."}, swingWords(a, 2))
	assert.Contains(t, Proven(a), "In this model 3 is enough and 2 is not (95 % sure, over 1,000 trial seasons).")
	assert.Equal(t, []string{"For the odds, the mould growth: the worst month is met in 99 % (97 to over 99 %) of the third of seasons in which it is lowest, and in 84 % (80 to 88 %) of the third in which it is highest. How: count spotted stalks."}, measureFirst(a))
	assert.Contains(t, measureFirst(decide.Answer{Swings: []decide.Swing{{Measure: "x", OddsLow: trials.NewOdds(30, 33), OddsHigh: trials.NewOdds(28, 33)}}})[0], "No single measurement")
	assert.Equal(t, []string{"Of 40 missed months in 300 seasons, one and a half times the cutting hours would have met most: 30 (75 % (59 to 87 %)); then dryers that never break 20; 5 needed two things at once or more."}, ShortParagraph(a.Short))
	tied := a.Short
	tied.Single = append(slices.Clone(a.Short.Single[:1]), decide.ShortOf{Things: []decide.Relief{decide.OpenRoad}, Met: a.Short.Single[0].Met}, a.Short.Single[1])
	assert.Contains(t, ShortParagraph(tied)[0], "one and a half times the cutting hours would have met most: 30 (75 % (59 to 87 %)); a road that stays open as many; then dryers that never break 20;")

	a.Proof = decide.Proof{Level: 0.95, Enough: 4, NotEnough: 2, Undecided: []int{3}, Seasons: 2000, MoreNeed: 8200, Fewer: 3, Pairs: 9000}
	assert.Contains(t, Proven(a), "4 is enough and 2 is not (95 % sure, over 2,000 trial seasons); of 3 it is too close to tell. About 8,200 seasons may tell (--limit 8200). In 3 of 9,000 comparisons")
	a.Proof.MoreNeed = 102_662_500
	assert.Contains(t, Proven(a), "of 3 it is too close to tell. In 3 of")
	a.Proof = decide.Proof{Level: 0.95, Enough: -1, NotEnough: 2, Undecided: []int{3, 4}, Seasons: 2000}
	assert.Contains(t, Proven(a), "In this model 2 is not enough (95 % sure, over 2,000 trial seasons); of 3 or 4 it is too close to tell.")
	a.Proof = decide.Proof{Level: 0.95, Enough: -1, NotEnough: 4, Seasons: 2000}
	assert.Contains(t, Proven(a), "none of the numbers tried, up to 4, is enough")
	a.Needed = -1
	assert.Contains(t, DryersSentence(a), "No number of dryers up to 4 is enough: with the best, 4 dryers, the worst month, July, is met in 97 of 100")

	assert.Equal(t, "", LosesFirst(a, 3))
	a.Money[3].Net = trials.Mean{Mean: -1200, Low: -1500, High: -900, Seasons: 1000}
	assert.Equal(t, "The plan loses money. ", LosesFirst(a, 3))
	assert.Equal(t, "under 1 %", Percent(0.001))
	assert.Equal(t, "over 99 %", Percent(0.9999))
	assert.Equal(t, "100 %", Percent(1))
	assert.Equal(t, "0 %", Percent(0))
	assert.Equal(t, "19 seasons of 20", OfTen(0.95))
	assert.Equal(t, "two at B, one at A", Where([]string{"A", "B"}, []int{1, 2}))
}

// How a season went, by hand.
func TestSeason(t *testing.T) {
	l := sim.RegionLedger{
		Season: 4, Sites: []sim.SiteLedger{{Site: "Stone Weir", Dryers: 1, Months: []sim.SiteMonth{{Cut: 1000, ToHub: 900, Second: 100, NotCutRain: 50}}}},
		Hub: []sim.HubMonth{{Month: time.July, Arrived: 900, RefusedAtGate: 90, Asked: 1000, Delivered: 810}},
	}
	assert.Equal(t, "Here, season 4: 0 of 1 contract months are met; missed: July (810 of 1,000).", SeasonSentence("Here", l))
	l.Hub[0].Met = true
	assert.Equal(t, "Here, season 4: the one contract month is met.", SeasonSentence("Here", l))
}

// The story of a month says the weather, what was cut and lost, what the dryers did, what
// was short and how the contract fared, by hand.
func TestStory(t *testing.T) {
	day := func(rain float64, short sim.Lack) sim.SiteDay {
		return sim.SiteDay{RainMM: rain, Short: short, Shift: sim.DryerHours{sim.DryerFiring: 6, sim.DryerNoWood: 6}}
	}
	l := sim.RegionLedger{
		Sites: []sim.SiteLedger{{
			Site: "Stone Weir", Dryers: 1, Days: []sim.SiteDay{day(0.4, sim.LacksNothing), day(20, sim.LacksWood), day(31, sim.LacksWood)},
			Months: []sim.SiteMonth{{Cut: 1000, ToHub: 700, Second: 200, Rejected: 100, NotCutRain: 50, Charges: 2, Shift: sim.DryerHours{sim.DryerFiring: 18, sim.DryerNoWood: 18}}},
		}},
		Hub: []sim.HubMonth{{Month: time.July, Arrived: 700, Asked: 1000, Delivered: 700}},
	}
	story := Story(l, []sim.Span{{Month: time.July, FirstDay: 0, LastDay: 2}})
	assert.Equal(t, []string{"July: 51 mm of rain on 2 days. 1,000 stalks were cut; 50 more were not cut because of the rain. 300 were lost to the contract, most of them second grade." +
		" The dryer finished 2 charges and fired 18 of 36 shift hours; most of the rest, 18 h, it stood: no wood." +
		" Of 3 days at all sites together something was short on 2: wood (2 days). The contract is missed: 700 of 1,000."}, story)

	drier := l.Sites[0]
	drier.Site, drier.Days = "Upper Ford", []sim.SiteDay{day(0, sim.LacksNothing), day(0.4, sim.LacksNothing), day(0, sim.LacksNothing)}
	l.Sites = append(l.Sites, drier)
	story = Story(l, []sim.Span{{Month: time.July, FirstDay: 0, LastDay: 2}})
	require.Len(t, story, 1)
	assert.True(t, strings.HasPrefix(story[0], "July: no day of rain at Upper Ford, 51 mm of rain on 2 days at Stone Weir. 2,000 stalks were cut"), story[0])
	assert.Contains(t, story[0], " The dryers finished 4 charges and fired 36 of 72 shift hours; most of the rest, 36 h, they stood: no wood.")
}

// What a month's story names adds up: stalks refused at the gate are lost to the contract too, "most" is
// more than half, the days that were short are all told, and a single thing is said as one. By hand: 500
// second grade of 1,100 lost, 30 h standing of 80 h not fired.
func TestStoryAddsUp(t *testing.T) {
	var days []sim.SiteDay
	for _, l := range []sim.Lack{sim.LacksWood, sim.LacksWood, sim.LacksRoad, sim.LacksRoad, sim.LacksRoad, sim.LacksPeople, sim.LacksPlant, sim.LacksRoom} {
		days = append(days, sim.SiteDay{Short: l})
	}
	l := sim.RegionLedger{
		Sites: []sim.SiteLedger{{
			Site: "Stone Weir", Dryers: 1, Days: days,
			Months: []sim.SiteMonth{{Cut: 1, Second: 500, ThrownOut: 400, RefusedAtGate: 200, NotCutRain: 1, Charges: 1, Shift: sim.DryerHours{sim.DryerFiring: 20, sim.DryerNoWood: 30, sim.DryerCooling: 50}}},
		}},
		Hub: []sim.HubMonth{{Month: time.July, Closing: 1, Spoiled: 1}},
	}
	span := []sim.Span{{Month: time.July, FirstDay: 0, LastDay: 7}}
	assert.Equal(t, []string{"July: no day of rain. 1 stalk was cut; 1 more was not cut because of the rain. 1,100 were lost to the contract, the largest part second grade." +
		" The dryer finished 1 charge and fired 20 of 100 shift hours; the largest part of the rest, 30 h, it stood: no wood." +
		" Of 8 days at all sites together something was short on 8: road (3 days), wood (2 days), people (1 day) and other things (2 days)." +
		" Mould spoiled 1 stalk at the hub. No contract; 1 good stalk lies at the hub."}, Story(l, span))
	l.Sites[0].Months[0], l.Sites[0].Days[7] = sim.SiteMonth{RefusedAtGate: 1}, sim.SiteDay{}
	l.Hub[0] = sim.HubMonth{Month: time.July, Asked: 1000, Met: true, Closing: 1}
	said := Story(l, span)[0]
	assert.Contains(t, said, " 1 was lost to the contract, refused at the gate.")
	assert.Contains(t, said, "short on 7: road (3 days), wood (2 days), people (1 day) and plant (1 day).", "four are named")
	assert.Contains(t, said, " The contract of 1,000 is met; 1 is left over.")
	l.Sites[0].Months[0] = sim.SiteMonth{RefusedAtGate: 300, Broken: 200}
	assert.Contains(t, Story(l, span)[0], " 500 were lost to the contract, most of them refused at the gate.")
}

// Every figure, and everything that may be short, has its words, and no words are left over.
func TestEveryFigureHasWords(t *testing.T) {
	require.NotEmpty(t, sim.Figures())
	for _, f := range sim.Figures() {
		assert.NotEmpty(t, FigureName(f.ID), f.Key)
		assert.NotEmpty(t, FigureColumn(f.ID), f.Key)
	}
	assert.Len(t, figureWords, len(sim.Figures()), "words of no figure")
	require.NotEmpty(t, sim.Lacks())
	for _, l := range sim.Lacks() {
		assert.NotEmpty(t, Short(l), l)
	}
	assert.Len(t, lackWords, len(sim.Lacks()))
	assert.Empty(t, NotCutInDay(sim.NoFigure))
	assert.Equal(t, "good stalks delivered", CompareLine("delivered"))
	assert.Equal(t, "second grade", CompareLine(sim.Second.String()))
}

// Every part of money, thing bought and what-if has its words, and no words are left over.
func TestMoneyHasWords(t *testing.T) {
	require.NotEmpty(t, money.AllParts())
	for _, p := range money.AllParts() {
		assert.NotEmpty(t, Part(p.String()), p)
	}
	assert.Len(t, partWords, len(money.AllParts())+3)
	require.NotEmpty(t, money.Things())
	for _, of := range money.Things() {
		assert.NotEmpty(t, Item(money.Item{Of: of, Size: 2}), of)
	}
	assert.Len(t, itemWords, len(money.Things()))
	require.NotEmpty(t, money.Changes())
	for _, c := range money.Changes() {
		assert.NotEmpty(t, WhatIf(c), c)
	}
	assert.Len(t, changeWords, len(money.Changes()))
	assert.Equal(t, "1 dryer at Heron Point, 50 m² of open rack at Old Sluice and a dryer moved from Stone Weir to Ferry Bank", Items([]money.Item{
		{Of: money.Dryer, Size: 1, Site: "Heron Point"}, {Of: money.OpenRack, Size: 50, Site: "Old Sluice"}, {Of: money.MovedDryer, Size: 1, Site: "Stone Weir", To: "Ferry Bank"},
	}))
}

// A smaller number that is undecided is named at once, and a number that is not proven only with
// "may".
func TestFewerMayDoInWords(t *testing.T) {
	a := sample.Answer()
	a.Proof = decide.Proof{Level: 0.95, Enough: 3, NotEnough: 0, Undecided: []int{1, 2}, Seasons: 1000}
	const three, met = " (one each at North Landing, Heron Point and Old Sluice) ", "the worst month, July, is met in 93 of 100 trial seasons (92 to 95); 90 were asked for"
	assert.Equal(t, "3 dryers"+three+"are enough: "+met+"; 1 or 2 may do too.", DryersSentence(a))
	a.Proof = decide.Proof{Level: 0.95, Enough: -1, NotEnough: 1, Undecided: []int{2, 3, 4}, Seasons: 1000}
	assert.Equal(t, "3 dryers"+three+"may be enough: "+met+"; 2 may do too.", DryersSentence(a))
	a.Proof = decide.Proof{Level: 0.95, Enough: 4, NotEnough: 2, Undecided: []int{3}, Seasons: 1000}
	assert.Equal(t, "3 dryers"+three+"may be enough: "+met+".", DryersSentence(a))
	a.Standing = []int{1, 1, 0}
	assert.Contains(t, DryersSentence(a), "1 dryer more (at Old Sluice) beside the two that stand may be enough: ")
	a.Standing = []int{1, 1, 1}
	assert.Contains(t, DryersSentence(a), "Perhaps no further dryer is needed")
	a.Needed = 0
	assert.Contains(t, DryersSentence(a), "Perhaps no dryer is needed")
	a.Needed, a.Proof.Undecided = -1, []int{2, 3, 4}
	assert.Contains(t, DryersSentence(a), "; 2, 3 or 4 may do.")
}

// Dryers that stand already are named apart from those to be added, and the order of funding with
// what it costs.
func TestWhatStandsInWords(t *testing.T) {
	a := sample.Answer()
	a.Standing, a.Plans, a.Needed = []int{0, 1, 0}, a.Plans[1:], 2
	const met = "the worst month, July, is met in 93 of 100 trial seasons (92 to 95); 90 were asked for."
	assert.Equal(t, "2 dryers more (one each at North Landing and Old Sluice) beside the one that stands are enough: "+met, DryersSentence(a))
	a.Plans, a.Needed = a.Plans[2:], 0
	a.Standing = []int{1, 1, 1}
	assert.Equal(t, `No further dryer is needed: with the three that stand (one each at North Landing, Heron Point and Old Sluice) `+met, DryersSentence(a))
	a.Proof.NotEnough = -1
	assert.Contains(t, Proven(a), "In this model the three that stand are enough (95 % sure, over 1,000 trial seasons). This")

	a = sample.Answer()
	assert.Equal(t, "To fund it in phases, put up one after the other at Heron Point, North Landing and Old Sluice: against the best placement of each number that order costs at most 2 points (2 to 2) of the odds, with 2 dryers.", inPhases(a))
	a.Phases[1].NestingCosts = trials.Mean{}
	assert.Contains(t, inPhases(a), "that order makes no month less safe.")
	a.Phases = a.Phases[:1]
	assert.Empty(t, inPhases(a), "one dryer has no order")

	m := decide.More{Delivered: sample.Mean(3000), MonthsMet: sample.Mean(0.5), PerMonth: sample.Mean(2000), PerStalk: sample.Mean(0.1)}
	assert.Equal(t, "Against no dryer a stalk more costs T$ 0.1000 (0.0980 to 0.1020) and a month met more T$ 2,000 (1,960 to 2,040), the dryers at their full price by the year; pay to the group's own people is not counted.", moreWords(a, &m, "T$"))
	m.PerMonth.High = math.Inf(1)
	a.Plans = a.Plans[2:]
	assert.Equal(t, "Against the two that stand a stalk more costs T$ 0.1000 (0.0980 to 0.1020), the dryers at their full price by the year; pay to the group's own people is not counted.", moreWords(a, &m, "T$"))
}

// A sign of a currency stands before its number, as in print, and a word after it, as in speech.
func TestCurrencyThatIsAWordStandsAfterItsNumber(t *testing.T) {
	assert.Equal(t, "T$ 12,340", Amount(money.Of(12_340), "T$"))
	assert.Equal(t, "12,340 coins", Amount(money.Of(12_340), "coins"))
	assert.Equal(t, "-1,000 coins (-1,020 to -980)", Amounts(trials.Mean{Mean: -1000, Low: -1020, High: -980}, "coins"))
	assert.Equal(t, "0.1000 coins (0.0980 to 0.1020)", Prices(sample.Mean(0.1), "coins"))
	assert.Equal(t, "EUR 0.1000", Price(0.1, "EUR"))
	assert.Equal(t, "12,340", BareMoney(12_340))
}
