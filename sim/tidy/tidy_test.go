package tidy_test

import (
	"context"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/plans"
	"drystalk/sim/tidy"
	"drystalk/sim/trials"
)

// lived returns a small region of two sites with prices after some seasons, with all months.
func lived(t *testing.T, n int) (plans.Case, tidy.Plan) {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	require.NoError(t, err)
	c, err := s.Setup(3)
	require.NoError(t, err)
	c.Setup.EveryMonth = true
	table, err := c.Setup.Table(context.Background(), 0, n, trials.Only(c.Plan()), nil)
	require.NoError(t, err)
	return c, tidy.Plan{Region: c.Setup.Region, Table: table, Dryers: c.Plan(), Ranges: c.Setup.Knowledge.Ranges, Goal: c.Goal, Prices: c.Prices, Currency: c.Currency}
}

// tableOf returns the whole table of a plan.
func tableOf(t *testing.T, p *tidy.Plan, by tidy.By) *tidy.Table {
	out := &tidy.Table{Columns: p.Columns(by)}
	require.NoError(t, p.Each(by, func(_ int, row []tidy.Cell) error {
		out.Rows = append(out.Rows, slices.Clone(row))
		return nil
	}))
	require.NoError(t, out.Check())
	return out
}

// sums returns the sum of a column by season.
func sums(t *testing.T, table *tidy.Table, name string) map[float64]float64 {
	at := slices.IndexFunc(table.Columns, func(c tidy.Column) bool { return c.Name == name })
	require.GreaterOrEqual(t, at, 0, name)
	out := map[float64]float64{}
	for _, row := range table.Rows {
		out[row[0].Number] += row[at].Number
	}
	return out
}

// Rows of months, of sites and of both add up to those of seasons: every figure that adds up, all
// money and what is delivered; and a season is what its ledger says.
func TestRowsAddUp(t *testing.T) {
	const n = 3
	c, p := lived(t, n)
	season := tableOf(t, &p, tidy.Season)
	require.Len(t, season.Rows, n)
	for by, rows := range map[tidy.By]int{tidy.Site: 6, tidy.Month: p.Table.Months(), tidy.SiteMonth: 6 * p.Table.Months()} {
		table := tableOf(t, &p, by)
		require.Len(t, table.Rows, n*rows, by)
		names := []string{"money_" + decide.NetBeforePurchase}
		for _, part := range money.AllParts() {
			names = append(names, "money_"+part.String())
		}
		for _, f := range sim.Figures() {
			if by == tidy.Site || f.Kind != sim.AtStart && f.Kind != sim.AtEnd {
				names = append(names, f.UnitKey())
			}
		}
		if by == tidy.Month {
			names = append(names, "asked_stalks", "delivered_stalks", "missing_stalks", "spoiled_at_hub_stalks", "rain_mm")
		}
		require.Greater(t, len(names), 60)
		for _, name := range names {
			whole, parts := sums(t, season, name), sums(t, table, name)
			require.Len(t, parts, n)
			for number, sum := range whole {
				assert.InDelta(t, sum, parts[number], 0.5, "%s by %s of season %g", name, by, number) // minutes of a month are rounded
			}
		}
	}
	led, err := c.Setup.Ledger(2)
	require.NoError(t, err)
	delivered := 0
	for _, m := range led.Hub {
		delivered += m.Delivered + m.MadeGood
	}
	assert.InDelta(t, delivered, sums(t, season, "delivered_stalks")[2], 0)
	cut := 0.0
	for _, site := range led.Sites {
		cut += sim.Cut.Figure().Season(site.Months)
	}
	assert.InDelta(t, cut, sums(t, season, "cut_stalks")[2], 0)
}

// Every parameter drawn, every figure and every month of the season has its column, with a unit
// where it has one, and no name comes twice.
func TestColumns(t *testing.T) {
	_, p := lived(t, 1)
	for _, by := range tidy.Rows() {
		seen := map[string]tidy.Column{}
		for _, c := range p.Columns(by) {
			assert.NotContains(t, seen, c.Name)
			assert.NotEmpty(t, c.Meaning, c.Name)
			seen[c.Name] = c
		}
		require.NotEmpty(t, p.Ranges)
		for _, r := range p.Ranges {
			assert.Equal(t, string(r.Unit), seen["drawn_"+string(r.Key)].Unit)
		}
		for _, f := range sim.Figures() {
			assert.Equal(t, string(f.Unit), seen[f.UnitKey()].Unit)
		}
		assert.Equal(t, "coins", seen["money_good_stalks_sold"].Unit)
		assert.Equal(t, by == tidy.Season, seen["met_aug"].Name != "")
	}
}

// The digest tells two tables apart by any cell, name or unit, and not by how nothing is written.
func TestDigest(t *testing.T) {
	table := func(name, unit string, cells ...tidy.Cell) string {
		out := &tidy.Table{Columns: []tidy.Column{{Name: name, Unit: unit, Kind: tidy.Real}}}
		for _, c := range cells {
			out.Rows = append(out.Rows, []tidy.Cell{c})
		}
		return out.Digest()
	}
	one := table("a", "kg", tidy.Number(1), tidy.None)
	assert.Equal(t, one, table("a", "kg", tidy.Number(1), tidy.None))
	assert.Equal(t, table("a", "", tidy.Number(0)), table("a", "", tidy.Number(0*-1.0)))
	for _, other := range []string{
		table("b", "kg", tidy.Number(1), tidy.None), table("a", "g", tidy.Number(1), tidy.None), table("a", "kg", tidy.Number(1)),
		table("a", "kg", tidy.None, tidy.Number(1)), table("a", "kg", tidy.Number(1.0000000000000002), tidy.None),
	} {
		assert.NotEqual(t, one, other)
	}
	broken := &tidy.Table{Columns: []tidy.Column{{Name: "a", Kind: tidy.Word}}, Rows: [][]tidy.Cell{{tidy.Number(1)}}}
	assert.ErrorContains(t, broken.Check(), "row 1: a holds a word")
}

// Whether a season reaches a target that goes by the whole season is what the odds count.
func TestTargetReached(t *testing.T) {
	for _, target := range []string{"all_months", "share_delivered, target_delivered_fraction=0.7", "income_at_least, target_least_income=90000", "penalty_at_most, target_most_penalty=300"} {
		s, err := scenarios.Demo(scenarios.LakeTavari)
		require.NoError(t, err)
		s, err = s.With([]string{"contract: target=" + target, "money: penalty_per_missing_stalk=0.01"})
		require.NoError(t, err)
		c, err := s.Setup(3)
		require.NoError(t, err)
		table, err := c.Setup.Table(context.Background(), 0, 6, trials.Only(c.Plan()), nil)
		require.NoError(t, err)
		want, _, err := decide.BySeason(c.Goal, c.Setup.Region, table, c.Plan())
		require.NoError(t, err)
		p := tidy.Plan{Region: c.Setup.Region, Table: table, Dryers: c.Plan(), Ranges: c.Setup.Knowledge.Ranges, Goal: c.Goal, Prices: c.Prices, Currency: c.Currency}
		got := sums(t, tableOf(t, &p, tidy.Season), "target_reached")
		require.Len(t, got, len(want))
		for i, reached := range want {
			assert.Equal(t, reached, got[float64(i)] == 1, "%s, season %d", target, i)
		}
	}
}
