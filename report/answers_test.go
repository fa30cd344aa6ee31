package report

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

func compared() Compared {
	return Compared{Region: "Here", Result: sample.Comparison(), LoanEnds: 36, Currency: "T$", Changes: []Change{{Key: "Heron Point.dryers", A: "1", B: "2"}}}
}

// A purchase that pays says so, one that loses says so first, with the reason and what else
// the money would do, and one that cannot be told from nothing claims neither.
func TestCompareWords(t *testing.T) {
	c := compared()
	r, err := ForCompare(c)
	require.NoError(t, err)
	assert.Equal(t, "It pays: over 8 years it gains T$ 2,500 (2,450 to 2,550) on average (net present value, 200 futures); +12,000 (+11,760 to +12,240) good stalks a season in the same weather, and the month that is worst now, July, is met in 95 % (93 to 96 %) of 1,000 seasons against 80 % (77 to 82 %).", r.Sentence)
	assert.Contains(t, r.Words(), "It is paid back in 90 % (85 to 94 %) of 200 futures, half of those within 2.5 years")
	assert.NotContains(t, r.Notes[0].Says, "Why:")
	_, err = r.Spreadsheet()
	require.NoError(t, err)

	c.Result.Purchase.NPV = trials.Mean{Mean: -900, Low: -1200, High: -600, Seasons: 200}
	c.Result.Dryers = []decide.DryerUse{{Site: "Heron Point", Dryer: 2, Second: true, Hours: []decide.Spent{{On: sim.DryerFiring.Figure(), Hours: sample.Mean(100)}, {On: sim.DryerNoStalks.Figure(), Hours: sample.Mean(1500)}}}}
	c.Result = sample.WithStates(c.Result)
	r, err = ForCompare(c)
	require.NoError(t, err)
	assert.Contains(t, r.Sentence, "It does not pay: over 8 years it loses T$ 900 (600 to 1,200) on average")
	assert.Contains(t, r.Notes[0].Says, "stands up to 1,500 h a season for this: no stalks to load")
	assert.Contains(t, r.Notes[0].Says, "drystalk spend --budget 6000")

	c.Result.Purchase.NPV = trials.Mean{Mean: 100, Low: -400, High: 600, Seasons: 200}
	assert.Contains(t, words.CompareSentence(c), "Whether it pays cannot be told")
	c.Result.Purchase.Price = trials.Mean{Mean: -0.1, Low: math.Inf(-1), High: math.Inf(1), Seasons: 200}
	assert.Contains(t, strings.Join(words.CompareParagraph(c), " "), "At any price of stalks it would pay")
}

// A promise, and none; a list of purchases, and nothing that helps.
func TestPromiseAndSpendWords(t *testing.T) {
	p := decide.Promise{
		Target: 0.9, Seasons: 1000, Flat: 30_600, Part: 1.02, Odds: trials.NewOdds(925, 1000), Worst: decide.MonthResult{Name: "August", Odds: trials.NewOdds(925, 1000)}, Next: 30_900, NextOdds: trials.NewOdds(912, 1000),
		Months: []decide.Promised{{Name: "April", Stalks: 74_000, Odds: trials.NewOdds(180, 200)}}, MonthSeasons: 200,
		Stock: &decide.StockNeed{After: "April", Stalks: 20_000, Odds: trials.NewOdds(930, 1000), Less: 18_000, LessIn: trials.NewOdds(890, 1000), Seasons: 1000},
	}
	r := ForPromise("Here", p)
	assert.Equal(t, "Here can promise 30,600 good stalks a month: then the worst month, August, is met in 93 of 100 trial seasons (91 to 94); 90 were asked for.", r.Sentence)
	assert.Contains(t, r.Words(), "With 20,000 good stalks at the hub at the end of April")
	assert.Contains(t, ForPromise("Here", decide.Promise{Target: 0.9, Seasons: 100, Next: 300, NextOdds: trials.NewOdds(50, 100)}).Sentence, "can promise no contract")

	s := spend.Answer{
		Budget: money.Of(10_000), Sites: []string{"Heron Point", "Old Sluice"}, Start: spend.Bought{Odds: trials.NewOdds(500, 1000), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(500, 1000)}},
		Steps: []spend.Bought{{Site: "Heron Point", What: []spend.Quantity{{Of: spend.Dryers, Size: 1}, {Of: spend.OpenRacks, Size: 50, Unit: "m²"}}, Cost: money.Of(6300), Spent: money.Of(6300), Odds: trials.NewOdds(930, 1000), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(930, 1000)}, Gain: sample.Mean(0.43), Fewer: sample.Mean(9000)}},
		All:   []spend.InAll{{Of: spend.Dryers, PerSite: []float64{1, 0, 0}}, {Of: spend.OpenRacks, Unit: "m²", PerSite: []float64{50, 0, 0}}, {Of: spend.StockAhead, Unit: "stalks", PerSite: []float64{0, 0, 20_000}}},
		Ends:  spend.NothingHelps, Before: sample.Mean(5000), After: sample.Mean(6000), Reached: 1, SearchSeasons: 60, Seasons: 1000,
	}
	r, err := ForSpend("Here", 0.9, s, "T$")
	require.NoError(t, err)
	assert.Equal(t, "Of T$ 10,000 this list takes 6,300: 1 dryer, 50 m² of open rack and 20,000 stalks in stock at the start; then the worst month, July, is met in 93 of 100 trial seasons (91 to 95), 50 before.", r.Sentence)
	s.After = trials.Mean{Mean: -500, Low: -600, High: -400, Seasons: 1000}
	r, err = ForSpend("Here", 0.9, s, "T$")
	require.NoError(t, err)
	assert.Regexp(t, "^It loses money. ", r.Sentence)
	s.Steps, s.All = nil, nil
	r, err = ForSpend("Here", 0.9, s, "T$")
	require.NoError(t, err)
	assert.Contains(t, r.Sentence, "Nothing that T$ 10,000 buys helps")
}
