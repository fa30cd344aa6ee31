package report

import (
	"fmt"
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
	return Compared{Region: "Here", Result: sample.Comparison(), LoanEnds: 36, Currency: "T$", Spend: "drystalk spend one-cooperative --budget 6000", Changes: []Change{{Key: "Heron Point.dryers", A: "1", B: "2"}}}
}

// A purchase says its verdict in the paragraph, one that does not pay says why in the notes, with
// what else the money would do, and the charts and tables of all are there.
func TestCompareWords(t *testing.T) {
	c := compared()
	r, err := ForCompare(c)
	require.NoError(t, err)
	assert.Equal(t, "With a second dryer at Heron Point, July is safer (enough in 95 of 100 trial seasons instead of 80), and the groups have T$ 470 more a year left, the purchase paid.", r.Sentence)
	assert.Equal(t, "Today and with a second dryer: Here", r.Title)
	text := r.Words()
	assert.Contains(t, text, "It pays in nearly all futures: it loses in fewer than 1 of 20 futures of 8 years.")
	assert.NotContains(t, fmt.Sprint(r.Notes), "Reasons")
	_, err = r.Spreadsheet()
	require.NoError(t, err)

	c.Result.Purchase.NPV, c.Result.Purchase.Verdict = trials.Mean{Mean: -900, Low: -1200, High: -600, Seasons: 200}, money.DoesNotPay
	c.Result.Dryers = []decide.DryerUse{{Site: "Heron Point", Dryer: 2, Second: true, Hours: []decide.Spent{{On: sim.DryerFiring.Figure(), Hours: sample.Mean(100)}, {On: sim.DryerNoStalks.Figure(), Hours: sample.Mean(1500)}}}}
	c.Result = sample.WithStates(c.Result)
	r, err = ForCompare(c)
	require.NoError(t, err)
	assert.Contains(t, r.Words(), "It does not pay: it loses in fewer than 1 of 20 futures of 8 years.")
	notes := fmt.Sprint(r.Notes)
	assert.Contains(t, notes, "with a second dryer a dryer stands up to 1,500 h a season for this: no stalks to load")
	assert.Contains(t, notes, "What the money would do instead: drystalk spend one-cooperative --budget 6000.")

	c.Result.Purchase.Verdict = money.CannotBeTold
	assert.Contains(t, words.CompareVerdict(c), "Whether it pays cannot be told")
	c.Result.Members, c.Result.Cutters = sample.Members(), money.Members.String()
	r, err = ForCompare(c)
	require.NoError(t, err)
	assert.Equal(t, "What members have of it", r.Sections[1].Title)
	_, err = r.Spreadsheet()
	require.NoError(t, err)
	for _, s := range r.Sections {
		for _, table := range s.Tables {
			assert.NotRegexp(t, "first plan|second plan", table.Text())
		}
	}
}

// A promise, and none; a list of purchases, and nothing that helps.
func TestPromiseAndSpendWords(t *testing.T) {
	p := decide.Promise{
		Target: 0.9, Seasons: 1000, Flat: 30_600, Part: 1.02, Odds: trials.NewOdds(925, 1000), Worst: decide.MonthResult{Name: "August", Odds: trials.NewOdds(925, 1000)}, Next: 30_900, NextOdds: trials.NewOdds(912, 1000),
		Months: []decide.Promised{{Name: "April", Stalks: 74_000, Odds: trials.NewOdds(180, 200)}}, MonthSeasons: 200,
		Stock: &decide.StockNeed{After: "April", Stalks: 20_000, Odds: trials.NewOdds(930, 1000), Less: 18_000, LessIn: trials.NewOdds(890, 1000), Seasons: 1000},
	}
	promise := func(p decide.Promise) Report {
		r, err := ForPromise(Promised{Region: "Here", Promise: p, Contract: []Asked{{Month: "April", Stalks: 30_000}, {Month: "May", Stalks: 30_000}}, Penalty: -1})
		require.NoError(t, err)
		return r
	}
	r := promise(p)
	assert.Equal(t, "Here can promise 30,600 good stalks a month: then the worst month, August, is met in 93 of 100 trial seasons (91 to 94); 90 were asked for.", r.Sentence)
	assert.Contains(t, r.Words(), "With 20,000 good stalks at the hub at the end of April")
	assert.Contains(t, r.Brief.Reading, "A ring is no offer")
	none := promise(decide.Promise{Target: 0.9, Seasons: 100, Next: 300, NextOdds: trials.NewOdds(50, 100)})
	assert.Contains(t, none.Sentence, "can promise no contract")
	assert.Equal(t, "Nothing can be promised, so no bar stands beside the contract as written.", none.Brief.Reading)

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
	assert.Regexp(t, "^The plan loses money. ", r.Sentence)
	s.Steps, s.All = nil, nil
	r, err = ForSpend("Here", 0.9, s, "T$")
	require.NoError(t, err)
	assert.Contains(t, r.Sentence, "Nothing that T$ 10,000 buys helps")
}
