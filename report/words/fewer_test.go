package words

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/report/internal/sample"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// standsWithOne is a region of which one dryer stands and meets both months in so many of 2,000
// seasons, and two dryers in so many; of one it cannot be told whether it is enough.
func standsWithOne(one, two int) decide.Answer {
	a := sample.Answer()
	a.Sites, a.Standing, a.Plans, a.Needed = []string{"Heron Point"}, []int{1}, a.Plans[1:3], 1
	for k, met := range []int{one, two} {
		p := &a.Plans[k]
		p.PerSite, p.Odds = []int{k + 1}, trials.NewOdds(met, 2000)
		for i := range p.Months {
			p.Months[i].Odds = trials.NewOdds(met, 2000)
		}
	}
	a.Proof = decide.Proof{Level: 0.95, Enough: 2, NotEnough: -1, Undecided: []int{1}, Seasons: 2000}
	return a
}

// Who already reached the target in the trial seasons, though not beyond chance, is not told to buy:
// whether more is needed is too close to tell. The numbers are counts of the made-up seasons.
func TestNobodyIsToldToBuyWhatMayNotBeNeeded(t *testing.T) {
	a := standsWithOne(1820, 2000)
	month := a.Plans[0].WorstMonth().Name
	said := DryersSentence(a)
	assert.Equal(t, "Whether a second dryer is needed is too close to tell: with one the worst month, "+month+", is met in 91 of 100 trial seasons (90 to 92), with two (at Heron Point) in all of them; 90 were asked for.", said)
	a = standsWithOne(1780, 2000)
	assert.True(t, strings.HasPrefix(DryersSentence(a), "1 dryer more (at Heron Point) beside the one that stands is enough: "), "one met less than was asked in the seasons: %s", DryersSentence(a))
	assert.Contains(t, DryersSentence(a), "; what stands may do too.")
	a = standsWithOne(1820, 1960)
	a.Proof.Undecided, a.Proof.NotEnough = nil, 1
	assert.Contains(t, DryersSentence(a), "is enough: ", "one is proven too few")

	a = standsWithOne(1820, 1960)
	a.Plans[0].Dryers, a.Plans[1].Dryers, a.Plans[1].PerSite, a.Standing, a.Proof.Undecided = 0, 1, []int{1}, []int{0}, []int{0}
	assert.True(t, strings.HasPrefix(DryersSentence(a), "Whether a dryer is needed is too close to tell: without one the worst month, "), DryersSentence(a))
	assert.Contains(t, DryersSentence(a), ", with one (at Heron Point) in 98 of 100 (97 to 99); 90 were asked for.")
	a.Plans[0].Dryers, a.Plans[1].Dryers, a.Plans[1].PerSite, a.Proof.Undecided = 6, 7, []int{7}, []int{6}
	assert.True(t, strings.HasPrefix(DryersSentence(a), "Whether more than six dryers are needed is too close to tell: with six the worst month, "), DryersSentence(a))
	a.Standing = []int{6}
	assert.True(t, strings.HasPrefix(DryersSentence(a), "Whether more than the six dryers that stand are needed is too close to tell: with them the worst month, "), DryersSentence(a))
	words, _ := Count(DryersSentence(a))
	assert.LessOrEqual(t, words, 46, "it is read aloud: %s", DryersSentence(a))
}

// What would change the number names other numbers only, and what to measure says what hangs on it.
func TestWhatChangesTheNumberIsAnotherNumber(t *testing.T) {
	a := standsWithOne(1820, 2000)
	a.Swings = []decide.Swing{{Parameter: "stalks a person brings", Low: 2, High: 1, OddsLow: trials.NewOdds(600, 600), OddsHigh: trials.NewOdds(600, 600), Measure: "count a week"}}
	assert.Equal(t, []string{"It may take 1 dryer if the stalks a person brings is high."}, swingWords(a, 2))
	assert.Equal(t, []string{"For the odds, the stalks a person brings: it may decide between 1 and 2 dryers. How: count a week."}, measureFirst(a))
	a.Swings[0].Low, a.Swings[0].High = -1, 2
	assert.Equal(t, []string{"It may take more than 2 dryers if the stalks a person brings is low."}, swingWords(a, 2))
	assert.Contains(t, measureFirst(a)[0], "between 2 and more than 2 dryers")
}

// An effect that the design is too small to tell is called so, by its point.
func TestEffectsThatCannotBeToldInWords(t *testing.T) {
	effect := func(what, unit string, mean, low, high float64) []StudyEffect {
		return []StudyEffect{{Point: "as written", Outcome: "delivered_stalks", Input: "mould_factor", What: what, Unit: unit, Effect: trials.Mean{Mean: mean, Low: low, High: high}}}
	}
	assert.Equal(t, `In the study "x" what moves delivered_stalks most at the point "as written" is mould_factor: its mean absolute effect is 11,200 stalks (0 to 33,600); that is perhaps nothing: too few trajectories to tell.`,
		EffectsSentence("x", effect("mean absolute effect", "stalks", 11_200, 0, 33_600)))
	assert.Contains(t, EffectsSentence("x", effect("total index", "", 0.5, -24, 0.66)), "(-24 to 0.66); that is too few rows to tell.")
	assert.Contains(t, StudySentence("x", nil), "no outcome differs between the rows of the design")
	for _, told := range [][]StudyEffect{effect("total index", "", 0.7, 0.6, 0.8), effect("total index", "", 0.01, -0.01, 0.03), effect("mean absolute effect", "", 3, 2, 4), effect("mean effect", "", 1, math.NaN(), math.NaN())} {
		assert.Empty(t, EffectDoubt(told[0]), "%v", told[0])
	}
}

// Money that is named is that of a number that is named: where a smaller one may do, what that costs stands
// beside it.
func TestMoneyNamesItsNumber(t *testing.T) {
	a := standsWithOne(1820, 2000)
	funded := func(n int) *decide.ToFund {
		f := decide.ToFund{New: n}
		f.Cost, f.Own = money.Of(7500*float64(n)), money.Of(7500*float64(n))
		return &f
	}
	a.Money = []decide.Earns{{ToFund: funded(0)}, {ToFund: funded(1)}}
	assert.Equal(t, "Of two dryers in all, the new one costs 7,500 shells, in cash.", fundInShort(a, 1, "shells"))
	a.Plans[0].Dryers, a.Plans[1].Dryers, a.Proof.Undecided = 3, 5, []int{3, 4}
	a.Money = []decide.Earns{{ToFund: funded(2)}, {ToFund: funded(4)}}
	assert.Equal(t, "Of five dryers in all, the four new ones cost 30,000 shells, in cash.", fundInShort(a, 1, "shells"))
	assert.Equal(t, "Of three dryers in all, the two new ones cost 15,000 shells.", fewerInShort(a, "shells"))
	words := said(DryersParagraph(a, 1, "shells"))
	assert.Contains(t, words, "30,000 shells, in cash. Of three dryers", "side by side")
	a.Proof.Undecided = nil
	assert.Empty(t, fewerInShort(a, "shells"))
	a.Money[1].ToFund = funded(5)
	assert.Equal(t, "The five new dryers cost 37,500 shells, in cash.", fundInShort(a, 1, "shells"))
}

// What to measure first for the odds and what is worth most in money may be two things: each says which it is,
// and that values of single parameters are no parts of that of all.
func TestWhatToMeasureSaysForWhat(t *testing.T) {
	a := sample.Answer()
	said := strings.Join(earnsWords(a, a.Needed, "coins", ""), " ")
	assert.Contains(t, said, "For the money, knowing all of the unmeasured parameters")
	assert.Contains(t, said, " a year; the mould growth alone 200 coins (196 to 204): count spotted stalks.")
	assert.NotContains(t, said, "add up", "there is but one")
	a.Worth.Each = append(a.Worth.Each, a.Worth.Each[0])
	assert.Contains(t, strings.Join(earnsWords(a, a.Needed, "coins", ""), " "), "count spotted stalks. What single ones are worth does not add up: one tells in part what another would.")
	assert.Contains(t, measureFirst(a)[0], "For the odds, the mould growth: ")
	a.Worth.All = trials.Mean{High: 0.5}
	assert.Contains(t, strings.Join(earnsWords(a, a.Needed, "coins", ""), " "), "For the money, knowing the unmeasured parameters before choosing the number that earns most would change nothing")
}
