package answers

import (
	"fmt"
	"os/exec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/plans"
)

// A POSIX shell reads back every line as the words it was made of (POSIX.1-2017, Shell Command
// Language, 2.2): the shell of the machine is the check from outside.
func TestShellReadsLinesBack(t *testing.T) {
	shell, err := exec.LookPath("sh")
	if err != nil {
		t.Skip("no POSIX shell here")
	}
	rapid.Check(t, func(t *rapid.T) {
		words := rapid.SliceOfN(rapid.StringOfN(rapid.RuneFrom([]rune("ab Z9'\"\\$`!*?[]{}()<>|&;#~=%\n\té²-")), 0, 12, -1), 1, 4).Draw(t, "words")
		out, err := exec.Command(shell, "-c", `printf '%s\001' `+line(words)).Output()
		require.NoError(t, err)
		assert.Equal(t, words, strings.Split(strings.TrimSuffix(string(out), "\001"), "\001"))
	})
}

// Values that begin with a dash are joined to their flags, changes stand before options, and
// what no number depends on is left out.
func TestCommandOfAPlan(t *testing.T) {
	c := plans.Case{File: "my plan.yaml", Changes: []string{"Heron Point: dryers=2"}}
	c.Setup.Seed = 7
	q := DefaultPromise()
	q.Workers, q.StockAt = 3, "-1"
	assert.Equal(t, `drystalk promise 'my plan.yaml' --with 'Heron Point: dryers=2' --seed 7 --seasons 1000 --search 100 --stock-at=-1`, q.Command(c))
	odds := DefaultOdds()
	odds.Record = "days.csv"
	assert.Equal(t, `drystalk odds 'my plan.yaml' --with 'Heron Point: dryers=2' --seed 7 --seasons 1000 --record days.csv --draws 20 --short 40`, odds.Command(c))
}

// What money would buy is asked of the plan that is compared with, by its file and all that was changed in it;
// the demo that needs no name, and no money, have none.
func TestCommandOfSpendingInstead(t *testing.T) {
	c := plans.Case{File: "my plan.yaml", Ways: "ways.yaml", Changes: []string{"Heron Point: dryers=2"}}
	assert.Equal(t, `drystalk spend 'my plan.yaml' --ways ways.yaml --with 'Heron Point: dryers=2' --budget 6000`, SpendLine(c, money.Of(6000.4)))
	assert.Equal(t, "drystalk spend one-cooperative --budget 6000", SpendLine(plans.Case{File: "one-cooperative"}, money.Of(6000)))
	assert.Equal(t, "drystalk spend --budget 6000", SpendLine(plans.Case{}, money.Of(6000)))
	assert.Empty(t, SpendLine(c, money.Of(0.4)))
}

// A comparison names the second plan by its changes, or by its file; plans that no command line
// can state have no line.
func TestCommandOfAComparison(t *testing.T) {
	q := DefaultCompare()
	const end = " --seed 0 --seasons 1000 --futures 200"
	plan := func(file string, changes ...string) plans.Case { return plans.Case{File: file, Changes: changes} }
	for _, tt := range []struct {
		first, second plans.Case
		want          string
	}{
		{plan("a.yaml"), plan("a.yaml", "hub: loss=1", "x: y=2"), "drystalk compare a.yaml --with 'hub: loss=1' --with 'x: y=2'" + end},
		{plan("a.yaml"), plan("b.yaml"), "drystalk compare a.yaml b.yaml" + end},
		{plan("a.yaml"), plan("b.yaml", "x: y=2"), ""},
		{plan("a.yaml", "x: y=2"), plan("b.yaml"), ""},
	} {
		assert.Equal(t, tt.want, q.Command(Pair{First: tt.first, Second: tt.second}))
	}
}

// The dryers of an answer are compared with the plan as written by what differs; many sites, and a plan
// with changes of its own, have no such line.
func TestCommandThatComparesDryers(t *testing.T) {
	a := DryersAnswer{Asked: Asked{Case: plans.Case{File: "my plan.yaml"}}}
	a.Asked.Case.Setup.Region = &sim.Region{Sites: []sim.Site{{Name: "Reed Bay", Dryers: 1}, {Name: "Mill Creek"}, {Name: "Ferry"}}}
	a.Answer.Sites = []string{"Reed Bay", "Mill Creek", "Ferry"}
	for _, p := range [][]int{{1, 0, 0}, {1, 2, 0}, {2, 1, 0}, {2, 1, 1}} {
		a.Answer.Plans = append(a.Answer.Plans, decide.PlanResult{PerSite: p})
	}
	assert.Empty(t, a.CompareCommand(0), "nothing is bought")
	assert.Equal(t, `drystalk compare 'my plan.yaml' --with 'Mill Creek: dryers=2'`, a.CompareCommand(1))
	assert.Equal(t, `drystalk compare 'my plan.yaml' --with 'Reed Bay: dryers=2' --with 'Mill Creek: dryers=1'`, a.CompareCommand(2))
	assert.Empty(t, a.CompareCommand(3), "three are too many for a sentence")
	a.Asked.Case.Changes = []string{"hub: loss=1"}
	assert.Empty(t, a.CompareCommand(1))
}

// Options as they are unless stated are allowed; the struct left empty is not, where a number
// must be given.
func TestDefaultsAreAllowed(t *testing.T) {
	assert.NoError(t, DefaultOdds().Validate())
	assert.NoError(t, DefaultDryers().Validate())
	assert.NoError(t, DefaultCompare().Validate())
	assert.NoError(t, DefaultPromise().Validate())
	assert.NoError(t, DefaultSpend(1).Validate())
	assert.NoError(t, DefaultSeason().Validate())
	assert.NoError(t, DefaultLoad().Validate())
	assert.NoError(t, DefaultFit().Validate())
	assert.EqualError(t, OddsOptions{}.Validate(), "--seasons: found 0, allowed: 30 to 1000000")
	assert.EqualError(t, DefaultSpend(0).Validate(), "--budget: found 0, allowed: more than 0")
	assert.NoError(t, DefaultSpend(1, 2.5, 1e12).Validate(), "both ends of what a budget may be")
	assert.NoError(t, DefaultSpend(1, 2, 3, 4, 5, 6, 7, 8).Validate())
	assert.EqualError(t, DefaultSpend(1, 2, 3, 4, 5, 6, 7, 8, 9).Validate(), "--budget: found 9 numbers, allowed: at most 8")
	assert.EqualError(t, DefaultSpend(1, 1e12+1).Validate(), "--budget: found 1.000000000001e+12, allowed: more than 0")
	assert.EqualError(t, DefaultSpend(2, 2).Validate(), "--budget: found 2 after 2, allowed: each larger than the one before")
	assert.EqualError(t, DefaultSpend().Validate(), "--budget: found none, allowed: what may be spent, or --cheapest")
	cheapest := DefaultSpend()
	cheapest.Cheapest = true
	assert.NoError(t, cheapest.Validate(), "with any sum")
	cheapest.Budget = []float64{1, 2}
	assert.EqualError(t, cheapest.Validate(), "--cheapest: found 2 budgets beside it, allowed: one or none")
	assert.EqualError(t, LoadOptions{}.Validate(), "--moisture: found 0, allowed: 0.15 to 0.97")
}

// Options are set from text within their limits, both ends included; what is wrong changes
// nothing.
func TestSetAnOption(t *testing.T) {
	q := DefaultLoad()
	option := map[string]Option{}
	for _, o := range OptionsOf(&q) {
		option[o.Flag] = o
	}
	for _, tt := range []struct{ flag, text, want, fault string }{
		{"moisture", " 0.15 ", "0.15", ""},
		{"moisture", "0.97", "0.97", ""},
		{"moisture", "0.98", "0.97", "--moisture: found 0.98, allowed: 0.15 to 0.97"},
		{"moisture", "NaN", "0.97", "--moisture: found NaN, allowed: 0.15 to 0.97"},
		{"moisture", "wet", "0.97", `--moisture: found "wet", allowed: 0.15 to 0.97`},
		{"set-c", "44.9", "0", "--set-c: found 44.9, allowed: 45 to 95"},
		{"set-c", "45", "45", ""},
		{"set-c", "0", "0", ""}, // the scenario's
		{"stalks", "10.5", "0", `--stalks: found "10.5", allowed: 0 to 100000`},
		{"stalks", "-1", "0", "--stalks: found -1, allowed: 0 to 100000"},
		{"stalks", "12", "12", ""},
	} {
		o, ok := option[tt.flag]
		require.True(t, ok)
		err := o.Set(tt.text)
		if tt.fault == "" {
			assert.NoError(t, err, tt.text)
		} else {
			assert.EqualError(t, err, tt.fault)
		}
		assert.Equal(t, tt.want, o.Value(), tt.text)
	}
	assert.Equal(t, 12, q.Stalks)
}

// The limit of seasons is twice the seasons unless stated, never fewer than them, and
// raised to four times only where it is not stated; the printed line asks the same.
func TestLimitOfDryers(t *testing.T) {
	q := DefaultDryers()
	for _, tt := range []struct{ seasons, limit, want int }{{1000, 0, 2000}, {400, 0, 800}, {400, 100, 400}, {400, 5000, 5000}, {1_000_000, 0, 1_000_000}} {
		q.Seasons, q.Limit = tt.seasons, tt.limit
		assert.Equal(t, tt.want, q.limit())
		if tt.limit > 0 {
			assert.Equal(t, q.limit(), q.raised(), "a stated limit is never raised")
		}
	}
	assert.Contains(t, q.Command(plans.Case{File: "x"}), "--limit 0 ")
	assert.Equal(t, 1_000_000, q.raised())
	q.Seasons = 1000
	assert.Equal(t, 4000, q.raised())
}

// A load larger than the cabinet is refused with what it holds of such stalks; a full one is not.
func TestALoadLargerThanTheCabinet(t *testing.T) {
	s, err := scenarios.Demo("lake-tavari")
	require.NoError(t, err)
	for moisture, holds := range map[float64]int{0.91: 1000, 0.41: 1500} {
		q := DefaultLoad()
		q.Moisture, q.Stalks = moisture, holds+1
		_, err := Load(s.WithoutWeather(1), q)
		require.ErrorContains(t, err, fmt.Sprintf("found %d, allowed: 1 to %d", holds+1, holds))
		q.Stalks = holds
		_, err = Load(s.WithoutWeather(1), q)
		require.NoError(t, err)
	}
}

// What a load costs, part by part, adds up by hand at the demo's prices, and fresh stalks cost two
// to three times as much a good stalk as pre-dried ones (common practice, no source). Hotter
// takes more wood, and without prices there is no money.
func TestWhatALoadCosts(t *testing.T) {
	s, err := scenarios.Demo("lake-tavari")
	require.NoError(t, err)
	c := s.WithoutWeather(1)
	a, err := Load(c, DefaultLoad())
	require.NoError(t, err)
	require.Len(t, a.Costs, 3)
	assert.Equal(t, []string{ThisLoad, FullFresh, FullPredried}, []string{a.Costs[0].Load, a.Costs[1].Load, a.Costs[2].Load})
	for _, l := range a.Costs {
		n := float64(l.Stalks) / 1000
		assert.InDelta(t, l.DryingH/2, l.TendingH, 1e-9, "one person tends two")
		assert.InDelta(t, 2*n, l.HandlingH, 1e-9)
		assert.InDelta(t, 1.2*n, l.GradingH, 1e-9, "looked through, then graded and bundled")
		require.NotNil(t, l.Money)
		assert.InDelta(t, 0.08*l.WoodKg+l.DryingH/2+2*n+1.2*n+0.15*l.DryingH, l.Money.Total, 1e-9)
		assert.InDelta(t, l.Money.Total/l.GoodStalks, l.Money.PerGoodStalk, 1e-12)
		assert.InDelta(t, 0.12*l.WoodKg, l.Money.WoodRains, 1e-9, "wood costs half as much again in the rains")
		assert.InDelta(t, (l.Money.Total+0.04*l.WoodKg)/l.GoodStalks, l.Money.PerGoodRains, 1e-12)
		assert.Less(t, l.GoodStalks, float64(l.Stalks))
	}
	assert.InDelta(t, a.WoodKg, a.Costs[0].WoodKg, 1e-9)
	assert.InDelta(t, a.Costs[1].Money.PerGoodStalk, a.Costs[0].Money.PerGoodStalk, 1e-9, "the default is a full load of fresh stalks")
	ratio := a.Costs[1].Money.PerGoodStalk / a.Costs[2].Money.PerGoodStalk
	assert.True(t, ratio > 2 && ratio < 3, "%g", ratio)
	q := DefaultLoad()
	q.SetC = 90
	hot, err := Load(c, q)
	require.NoError(t, err)
	assert.Greater(t, hot.Costs[0].WoodKg, a.Costs[0].WoodKg)
	c.Prices = nil
	a, err = Load(c, DefaultLoad())
	require.NoError(t, err)
	assert.Nil(t, a.Costs[0].Money)
}
