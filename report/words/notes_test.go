package words

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/knowledge"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// A number counts with what groups it, a sign alone is no word, and a hyphened word is one.
func TestCountOfWordsAndNumbers(t *testing.T) {
	for text, want := range map[string][2]int{
		"":                          {0, 0},
		"With 8 dryers, 92 of 100.": {6, 3},
		"48,000 coins at 0.1200 coins (95 % sure)": {7, 3},
		"of-the-way - and %":                       {2, 0},
		"July (10 to 12).":                         {4, 2},
	} {
		words, numbers := Count(text)
		assert.Equal(t, want, [2]int{words, numbers}, text)
	}
}

// What must be said is said; of the rest, from the most telling downward, what there is room for.
func TestParagraphHoldsWhatThereIsRoomFor(t *testing.T) {
	long := strings.TrimSpace(strings.Repeat("word ", 60)) + "."
	got := Paragraph([]string{"First.", ""}, []string{"One two.", long, "1 2 3 4 5 6 7 8 9 10 11 12 13.", "Short.", strings.TrimSpace(strings.Repeat("more ", 40))}, []string{"Last."})
	assert.Equal(t, []string{"First.", "One two.", long, "Short.", "Last."}, got)
	w, n := Count(said(got))
	assert.LessOrEqual(t, w, MostWords)
	assert.LessOrEqual(t, n, MostNumbers)
	const dry = "The store is dry."
	assert.Equal(t, []string{"One.", "The store is dry; a shed would do 5.", "End."}, Paragraph([]string{"One."}, []string{"The store is dry; a shed would do 5."}, []string{dry, "End."}), "nothing is said twice")
	assert.Equal(t, []string{dry}, Paragraph(nil, []string{dry}, []string{dry}))
	assert.Equal(t, []string{long, dry}, Paragraph([]string{long}, []string{"The store is dry; " + long}, []string{dry}), "what goes on has no room")
	assert.Equal(t, []string{long, long}, Paragraph([]string{long}, []string{"x"}, []string{long}), "what must be said is said whatever its length")
}

// manySites are fourteen sites with long names.
func manySites() []string {
	var out []string
	for k := range 14 {
		out = append(out, fmt.Sprintf("Upper Backwater Landing of Village Number %s", string(rune('A'+k))))
	}
	return out
}

// wide is an answer for fourteen sites with long names, every site with as many dryers as its place
// asks for.
func wide() decide.Answer {
	a := sample.Answer()
	a.Sites = manySites()
	per := make([]int, len(a.Sites))
	total := 0
	for i := range per {
		per[i] = i % 3
		total += per[i]
	}
	a.Standing = make([]int, len(a.Sites))
	for k := range a.Plans {
		a.Plans[k].PerSite = per
	}
	a.Plans[a.Needed].Dryers = total
	a.Proof = decide.Proof{Level: 0.95, Enough: total, NotEnough: 2, Seasons: 4000}
	return a
}

// noneDoes is an answer in which no number reaches the target.
func noneDoes() decide.Answer {
	a := sample.Answer()
	a.Needed, a.Target, a.Phases = -1, 0.99, nil
	a.Proof = decide.Proof{Level: 0.95, Enough: -1, NotEnough: 2, Undecided: []int{3, 4}, Seasons: 4000, MoreNeed: 102_662_500}
	return a
}

// duties are what opens and closes every paragraph at the most: an invented place, a guessed
// humidity, the hub and the weather.
func duties(h decide.HubAir) (first, last []string) {
	return append([]string{InventedWords()}, HumidityInShort([]string{"Dhaka 41923"})...), []string{HubInShort(h), NormalsInShort(true)}
}

// fits checks that a sentence and a paragraph are short enough to be read aloud.
func fits(t *testing.T, name, sentence string, may []string, hub decide.HubAir) {
	t.Helper()
	w, _ := Count(sentence)
	assert.LessOrEqual(t, w, 44, "%s: %s", name, sentence)
	first, last := duties(hub)
	paragraph := said(Paragraph(first, may, last))
	w, n := Count(paragraph)
	assert.LessOrEqual(t, w, MostWords, "%s: %s", name, paragraph)
	assert.LessOrEqual(t, n, MostNumbers, "%s: %s", name, paragraph)
	for _, duty := range append(first, last...) {
		assert.Contains(t, paragraph, duty, name)
	}
	require.NotEmpty(t, may, name)
	assert.Contains(t, paragraph, may[0], "%s: the most telling sentence stands in it", name)
	for _, never := range []string{"first plan", "second plan", "(fund)", "guarantee", "confidence", "p-value", "NaN", "Inf", "%!"} {
		assert.NotContains(t, sentence+" "+paragraph, never, name)
	}
}

// The sentence and the paragraph of every answer are short: for three sites, for one, for fourteen
// with long names, and where nothing reaches the target.
func TestAnswersAreShortEnoughToBeReadAloud(t *testing.T) {
	one := sample.Answer()
	one.Sites, one.Standing = one.Sites[:1], []int{1}
	one.Plans = one.Plans[1:]
	for k := range one.Plans {
		one.Plans[k].PerSite = []int{k + 1}
	}
	one.Needed, one.Phases = 1, nil
	stopped := sample.Answer()
	stopped.Stopped = decide.WhileProving
	tolerant := wide()
	tolerant.Goal.Tolerance = 0.05
	cases := map[string]decide.Answer{"with a tolerance": tolerant, "three sites": sample.Answer(), "one site": one, "fourteen sites": wide(), "nothing reaches": noneDoes(), "stopped": stopped}
	require.Len(t, cases, 6)
	for name, a := range cases {
		at := a.Needed
		if at < 0 {
			at = a.Best()
		}
		fits(t, "dryers, "+name, DryersSentence(a), DryersParagraph(a, at, "coins"), a.Hub)
		o := Planned{Region: a.Region, Target: a.Target, Goal: a.Goal, Sites: a.Sites, Plan: a.Plans[at], Hub: a.Hub, Short: a.Short, Money: &a.Money[at]}
		fits(t, "odds, "+name, OddsSentence(o), OddsParagraph(o, "coins"), a.Hub)
	}
	for _, s := range []spend.Answer{bought(3), bought(14), {Budget: money.Of(40_000), Start: bought(1).Start, Hub: sample.Answer().Hub}} {
		fits(t, fmt.Sprintf("spend, %d sites", len(s.Sites)), SpendSentence(s, "coins"), SpendParagraph(s, 0.9, "coins"), sample.Answer().Hub)
	}
	for _, p := range []decide.Promise{
		{
			Target: 0.9, Seasons: 1000, Flat: 130_600, Part: 1.02, Odds: trials.NewOdds(925, 1000), Worst: decide.MonthResult{Name: "September", Odds: trials.NewOdds(925, 1000)}, Next: 130_900, NextOdds: trials.NewOdds(912, 1000),
			Months: []decide.Promised{{Name: "April", Stalks: 174_000}}, Stock: &decide.StockNeed{After: "April", Stalks: 120_000, Odds: trials.NewOdds(930, 1000)},
		},
		{Target: 0.9, Seasons: 1000, Next: 300, NextOdds: trials.NewOdds(50, 1000), Stock: &decide.StockNeed{After: "April", Stalks: -1}},
	} {
		fits(t, "promise", PromiseSentence("Upper Backwater Region of Lake Tavari", p), PromiseParagraph(p), sample.Answer().Hub)
	}
	many := sample.Ways()
	for k := range many.Together {
		c := many.Together[k].Changes[0]
		many.Together[k].Changes = []ways.Change{c, c, c, c, c}
	}
	for name, w := range map[string]ways.Answer{"two": sample.Ways(), "five": many} {
		fits(t, "ways, "+name, WaysSentence(w), WaysParagraph(w, "coins"), w.Hub)
	}
	var why []decide.MonthWhy
	for _, m := range []string{"April", "May", "June", "July", "August", "September", "October"} {
		why = append(why, decide.MonthWhy{Month: m, Asked: 190_000, Delivered: 20_000, MetWith: decide.Reliefs()})
	}
	fits(t, "season", SeasonSentence("Upper Backwater Region of Lake Tavari", missedAll()), SeasonParagraph(why), sample.Answer().Hub)
	load := Load{Stalks: 900, MoistureWet: 0.4, SetC: 60, DryingH: 5, Hours: Drawn{4, 6.5, 1000, 12}, Wood: Drawn{15, 40, 1000, 12}, CoolingH: 1.5, WoodKg: 21, EndMoistureWet: 0.14, OverdriedPart: 0.03, FreshPerGood: 0.01, PredriedPerGood: 0.002, Currency: "coins"}
	fits(t, "charge", LoadSentence(load), LoadParagraph(load), sample.Answer().Hub)
}

// A verdict and the sentence beside it say the same: no number is called too few where none is
// needed, none is called enough that cannot be told, and no measurement is called vain beside one
// that moves the number.
func TestNoVerdictContradictsASentenceBesideIt(t *testing.T) {
	a := sample.Answer()
	a.Needed, a.Plans[0] = 0, sample.Plan(0, []int{0, 0, 0}, 990, 970)
	a.Proof = decide.Proof{Level: 0.95, Enough: 0, NotEnough: -1, Seasons: 1000}
	all := DryersSentence(a) + " " + said(DryersParagraph(a, 0, "coins")) + " " + Proven(a)
	assert.Contains(t, all, "No dryer is needed: without one")
	assert.Contains(t, all, "In this model it is enough without a dryer")
	for _, never := range []string{"none is enough", "0 is enough", "-1", "is not enough"} {
		assert.NotContains(t, all, never)
	}

	a = noneDoes()
	all = DryersSentence(a) + " " + said(DryersParagraph(a, a.Best(), "coins")) + " " + Proven(a)
	assert.Contains(t, all, "is shown to be enough")
	assert.NotContains(t, all, "4 is enough")
	assert.Contains(t, all, "too close to tell")
	assert.NotContains(t, all, "102,662,500")

	moves := decide.Swing{Parameter: "mould growth", Low: 2, High: 4, LowBelow: 1.49, HighAbove: 1.76, OddsLow: trials.NewOdds(310, 333), OddsHigh: trials.NewOdds(309, 333), Measure: "count spotted stalks"}
	require.False(t, moves.ToldApart())
	a = sample.Answer()
	a.Swings = []decide.Swing{moves}
	assert.Equal(t, "If stalks mould faster than assumed, it may take 4.", swingInShort(a))
	assert.NotContains(t, said(measureFirst(a)), "No single measurement")
	assert.Contains(t, said(measureFirst(a)), "count spotted stalks")
	a.Swings[0].Low, a.Swings[0].High = 3, 3
	assert.Empty(t, swingInShort(a))
	assert.Contains(t, said(measureFirst(a)), "No single measurement")
	a.Swings[0].High = -1
	assert.Equal(t, "If stalks mould faster than assumed, even 4 may not do.", swingInShort(a))

	o := Planned{Region: "Here", Target: 0.9, Sites: a.Sites, Plan: a.Plans[1], Short: a.Short}
	assert.Contains(t, OddsSentence(o), "The plan is not enough")
	o.Plan = sample.Plan(1, []int{0, 1, 0}, 990, 905)
	assert.Contains(t, OddsSentence(o), "too close to tell")
	o.Plan = sample.Plan(1, []int{0, 1, 0}, 990, 960)
	assert.Contains(t, OddsSentence(o), "The plan is enough")
}

// Every parameter that nobody has measured has words for being low and being high, and that of the
// cutters its number.
func TestEveryParameterHasWords(t *testing.T) {
	require.NotEmpty(t, knowledge.Table())
	assert.Len(t, swingKeys, len(knowledge.Table()))
	for _, r := range knowledge.Table() {
		w := swingWordsOf(decide.Swing{Parameter: r.Name.String(), LowBelow: 0.95, HighAbove: 1.1})
		assert.NotEmpty(t, w.low, r.Key)
		assert.NotEmpty(t, w.high, r.Key)
		assert.NotEqual(t, w.low, w.high, r.Key)
	}
	w := swingWordsOf(decide.Swing{Parameter: "output of a cutter", LowBelow: 0.95, HighAbove: 1.1})
	assert.Equal(t, swingWord[string]{"cutters bring 5 % less than you wrote", "cutters bring 10 % more than you wrote"}, w)
}

// Shares in sentences are counted out of a hundred, and what is neither none nor all is not called
// so.
func TestSharesInSentences(t *testing.T) {
	for met, want := range map[int]string{
		0: "none of the trial seasons", 1: "fewer than 1 of 100 trial seasons", 10: "1 of 100 trial seasons (under 1 to 2)", 920: "92 of 100 trial seasons (90 to 94)",
		994: "99 of 100 trial seasons (99 to over 99)", 999: "nearly all of the trial seasons", 1000: "all of the trial seasons",
	} {
		assert.Equal(t, want, InTrials(trials.NewOdds(met, 1000)), met)
	}
	assert.Equal(t, "92.5 were asked for", askedFor(0.925, trials.NewOdds(500, 1000)))
	assert.Equal(t, "90 of 100 were asked for", askedFor(0.9, trials.NewOdds(1000, 1000)))
}

// Where dryers stand is said in few words, whatever the number of sites.
func TestWhereInFewWords(t *testing.T) {
	sites := []string{"North Landing", "Heron Point", "Old Sluice", "Ferry Bank", "Stone Weir", "Lower Channel"}
	assert.Equal(t, "two at Heron Point, one at Old Sluice", ShortWhere(sites, []int{0, 2, 1, 0, 0, 0}))
	assert.Equal(t, "two each at North Landing and Heron Point, one at each other site", ShortWhere(sites, []int{2, 2, 1, 1, 1, 1}))
	assert.Equal(t, "one at each site", ShortWhere(sites, []int{1, 1, 1, 1, 1, 1}))
	assert.Equal(t, "at all 6 sites, listed below", ShortWhere(sites, []int{4, 4, 3, 3, 2, 2}))
	assert.Equal(t, "three at North Landing, none at Ferry Bank, two at each other site", ShortWhere(sites, []int{3, 2, 2, 0, 2, 2}))
	assert.Equal(t, "three each at North Landing and Heron Point, none at Ferry Bank, two at each other site", whereOthers(sites, []int{3, 3, 2, 0, 2, 2}))
	assert.Equal(t, "at 9 of 14 sites, listed below", ShortWhere(manySites(), wide().Plans[3].PerSite))
}

// bought is a list of all levers at so many sites with long names.
func bought(sites int) spend.Answer {
	s := spend.Answer{
		Budget: money.Of(40_000), Sites: manySites()[:sites], Start: spend.Bought{Odds: trials.NewOdds(500, 1000), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(500, 1000)}},
		Steps: []spend.Bought{
			{Spent: money.Of(4000), Odds: trials.NewOdds(930, 1000), Worst: decide.MonthResult{Name: "August", Odds: trials.NewOdds(930, 1000)}}, {Spent: money.Of(39_000), Odds: trials.NewOdds(960, 1000), Worst: decide.MonthResult{Name: "August", Odds: trials.NewOdds(960, 1000)}},
		},
		Reached: 1, Before: sample.Mean(5000), After: sample.Mean(6000), Ends: spend.NothingHelps, Seasons: 1000, Hub: sample.Answer().Hub,
		Marginal: []spend.Marginal{{Site: manySites()[0], What: spend.Quantity{Of: spend.OpenRacks, Size: 50}, Cost: money.Of(300), Fewer: 20}},
	}
	for _, of := range []spend.Lever{spend.Dryers, spend.OpenRacks, spend.ClearRoofs, spend.Sheets, spend.Cutters, spend.LongerShifts} {
		per := make([]float64, sites)
		for i := range per {
			per[i] = float64(1 + i%2)
		}
		s.All = append(s.All, spend.InAll{Of: of, PerSite: per})
	}
	return s
}

// missedAll is a season in which seven contract months are missed.
func missedAll() sim.RegionLedger {
	l := sim.RegionLedger{Season: 417}
	for m := time.April; m <= time.October; m++ {
		l.Hub = append(l.Hub, sim.HubMonth{Month: m, Asked: 190_000, Delivered: 20_000})
	}
	return l
}

// What is lost in a year is said to be lost, not to be earned with a minus.
func TestALossIsCalledOne(t *testing.T) {
	loss := trials.Mean{Mean: -1200, Low: -1500, High: -900}
	assert.Equal(t, "is short of 1,200 coins (900 to 1,500)", leftOrShort(loss, "coins"))
	assert.Equal(t, "When all work is paid, 1,200 coins a year are missing.", yearInShort(loss, "coins"))
	assert.Equal(t, "Whether money is left in an average year, when all work is paid, is too close to tell.", yearInShort(trials.Mean{Mean: 5, Low: -5, High: 15}, "coins"))
	assert.NotContains(t, PlanEarnsSentence(decide.Earns{Net: loss, PerGood: sample.Mean(0.1)}, "coins"), "-")
}
