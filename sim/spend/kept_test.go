package spend

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/goal"
	"drystalk/sim/trials"
)

// anyRegion draws a small region of the demo's climate: one to four sites that differ, with or
// without dryers, hauling, a moved dryer, a closed stand and a stock ahead.
func anyRegion(t *rapid.T, s *scenarios.Scenario) {
	r := &s.Region
	r.Calendar = sim.Calendar{StartMonth: time.June, StartDay: 1, Days: 40}
	one := r.Sites[0]
	r.Sites, s.MaxDryers = nil, nil
	n := rapid.IntRange(1, 4).Draw(t, "sites")
	for i := range n {
		site := one
		site.Name = fmt.Sprint("Site ", i)
		site.Cutters = rapid.IntRange(2, 12).Draw(t, "cutters")
		site.OutputPerPersonH = rapid.Float64Range(60, 180).Draw(t, "output")
		site.OpenRackM2 = rapid.Float64Range(20, 200).Draw(t, "rack")
		site.Dryers = rapid.IntRange(0, 2).Draw(t, "dryers")
		site.Sheets = rapid.Bool().Draw(t, "sheets")
		site.StoreStalks = rapid.SampledFrom([]int{0, 9000}).Draw(t, "room")
		if rapid.Bool().Draw(t, "closed") {
			site.Closed = []sim.Closure{{Why: "sprayed", FirstDay: 5, LastDay: 15}}
		}
		r.Sites, s.MaxDryers = append(r.Sites, site), append(s.MaxDryers, site.Dryers+2)
	}
	if n > 1 && rapid.Bool().Draw(t, "hauls") {
		r.Sites[0].HaulTo, r.Sites[0].HaulStalksPerDay = r.Sites[n-1].Name, 3000
	}
	if n > 1 && r.Sites[0].Dryers > 0 && rapid.Bool().Draw(t, "moves") {
		r.Moves = []sim.Move{{From: r.Sites[0].Name, To: r.Sites[1].Name, Day: 12, DaysLost: 2}}
	}
	r.Hub.Speaks = sim.Speaks(rapid.IntRange(0, 2).Draw(t, "speaks"))
	r.Hub.StoreStalks = rapid.SampledFrom([]int{0, 5000 * n}).Draw(t, "room at the hub")
	for _, m := range []time.Month{time.June, time.July} {
		r.Contract.StalksByMonth[m] = 9000 * n
		r.Contract.TargetStock[m] = rapid.SampledFrom([]int{0, 7000}).Draw(t, "ahead")
	}
}

// What is kept of a design, whatever was run before it, is what the plan brings that lives
// through the same seasons whole and alone, and so is how it stands.
func TestKeptRowsAreFreshOnes(t *testing.T) {
	const seasons = 2
	rapid.Check(t, func(t *rapid.T) {
		s, err := scenarios.Demo(scenarios.OneCooperative)
		require.NoError(t, err)
		anyRegion(t, s)
		source, err := climate()
		require.NoError(t, err)
		set := trials.Setup{Region: &s.Region, Base: s.Base, Knowledge: s.Knowledge, Source: source, Seed: rapid.Uint64().Draw(t, "seed"), Workers: 2}
		search := newSearch(Question{Setup: set, MaxDryers: s.MaxDryers, Prices: allPrices(), Target: 0.9, SearchSeasons: seasons, Seasons: seasons})
		d, designs := search.start(), []design{search.start()}
		for range 3 {
			b := rapid.SampledFrom(search.bundles()).Draw(t, "bought")
			if next := b.in(d); search.allowed(next) {
				d = next
				designs = append(designs, d)
			}
		}
		require.NoError(t, search.runAll(t.Context(), designs))
		judging := search.judging()
		_, err = judging.all(t.Context(), designs)
		require.NoError(t, err)
		for _, d := range designs {
			keptIsFresh(t, search, d)
			assembledIsFresh(t, judging, d)
		}
	})
}

// assembledIsFresh checks a table put together from rows of sites against the plan that lives
// through the seasons whole and alone.
func assembledIsFresh(t *rapid.T, j *judging, d design) {
	set := j.Setup
	set.Region = j.region(d)
	plan := decide.PlanOf(set.Region)
	fresh, err := set.Table(t.Context(), 0, j.Seasons, trials.Only(plan), nil)
	require.NoError(t, err)
	kept, err := j.table(d, set.Region)
	require.NoError(t, err)
	require.Equal(t, fresh.Digest(), kept.Digest(), "bought %v", d)
	want, err := j.standing(d, set.Region, fresh)
	require.NoError(t, err)
	require.Equal(t, want, j.stands[fmt.Sprint(d)], "bought %v", d)
	for i := range j.Seasons {
		require.Equal(t, fresh.OpeningKept(i), kept.OpeningKept(i))
		for site := range plan {
			require.Equal(t, fresh.Kept(site, plan[site], i), kept.Kept(site, plan[site], i))
			for dryer := range plan[site] {
				require.Equal(t, fresh.DryerMinutes(site, plan[site], i, dryer), kept.DryerMinutes(site, plan[site], i, dryer))
			}
		}
	}
}

// keptIsFresh checks the rows of a search against the plan that lives through the seasons alone: apart,
// where the search ranks by sites that live apart.
func keptIsFresh(t *rapid.T, s *search, d design) {
	set := s.Setup
	set.Region = s.region(d)
	plan := decide.PlanOf(set.Region)
	alone := trials.Variant{Region: set.Region, Levels: trials.Only(plan), Apart: s.apart()}
	tables, err := set.Tables(t.Context(), s.first, s.n, []trials.Variant{alone}, nil)
	require.NoError(t, err)
	table := tables[0]
	for site, key := range s.keys(d) {
		for i := range s.n {
			require.Equal(t, table.Accepted(site, plan[site], i), s.rows[key][i].accepted, "site %d, season %d, bought %v", site, i, d)
			if still := s.rows[key][i].still; still != nil && table.Kept(site, plan[site], i) != nil { // else all of it keeps
				require.Equal(t, table.Kept(site, plan[site], i), still, "site %d, season %d, bought %v", site, i, d)
			}
		}
	}
	want, err := decide.Judge(table, plan)
	require.NoError(t, err)
	_, missing, err := decide.BySeason(goal.Goal{}, nil, table, plan)
	require.NoError(t, err)
	p := s.play(d)
	require.Equal(t, want.WorstMonth().Odds.Met, p.score.WorstMet)
	require.Equal(t, missing, p.short)
}
