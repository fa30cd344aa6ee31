package report

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares bytes with a file, or rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("../testdata/golden", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), name)
}

// mean is a made-up mean of 1,000 seasons.
func mean(x float64) trials.Mean {
	return trials.Mean{Mean: x, Low: 0.98 * x, High: 1.02 * x, Seasons: 1000}
}

// earned is made-up money of so many plans.
func earned(plans int) []decide.Earns {
	var out []decide.Earns
	for n := range plans {
		out = append(out, decide.Earns{
			Dryers: n, Net: mean(10_000 + 500*float64(n)), PerGood: mean(0.08), Parts: []decide.Part{{Name: "wood", Year: mean(-900), PerGood: mean(-0.003)}},
		})
	}
	return out
}

// plan is a made-up result whose two months are met in so many of 1,000 seasons.
func plan(dryers int, perSite []int, june, july int) decide.PlanResult {
	month := func(m time.Month, met int) decide.MonthResult {
		return decide.MonthResult{
			Month: m, Name: m.String(), Asked: 60_000, Odds: trials.NewOdds(met, 1000),
			Available: trials.Band{P5: 41_000, Median: 72_500, P95: 98_000, Seasons: 1000}, Shortfall: mean(float64(1000-met) * 20),
		}
	}
	p := decide.PlanResult{
		Dryers: dryers, PerSite: perSite, Months: []decide.MonthResult{month(time.June, june), month(time.July, july)},
		AllMonths: trials.NewOdds(max(0, min(june, july)-10), 1000), Share: mean(0.9),
		Flow: decide.Flow{
			OpeningStock: mean(0), Cut: mean(200_000), Second: mean(30_000), Rejected: mean(4000), ThrownOut: mean(9000), Broken: mean(1500),
			RefusedAtGate: mean(12_000), Delivered: mean(118_000), LeftOver: mean(25_500), NotCutRain: mean(8000), NotCutYardFull: mean(1000),
			NotCutTarget: mean(5000), Charges: mean(210), FiringH: mean(800), IdleH: mean(1500), WoodKg: mean(4200),
			Shift: []decide.Spent{{On: "firing", Hours: mean(800)}, {On: "no wood", Hours: mean(0)}}, Tasks: []decide.Spent{{On: "cutting", Hours: mean(3000)}},
		},
	}
	if july < june {
		p.Worst = 1
	}
	return p
}

func answer() decide.Answer {
	return decide.Answer{
		Region: `Lake <b> & "Tavari"`, Sites: []string{"North Landing", "Heron Point", "Old Sluice"}, Target: 0.9, SearchSeasons: 120, Seasons: 1000, Seed: 1,
		Plans: []decide.PlanResult{
			plan(0, []int{0, 0, 0}, 40, 3), plan(1, []int{0, 1, 0}, 500, 210), plan(2, []int{1, 1, 0}, 960, 790),
			plan(3, []int{1, 1, 1}, 990, 934), plan(4, []int{1, 2, 1}, 995, 968),
		},
		Needed: 3,
		Swings: []decide.Swing{
			{Parameter: "mould growth", Low: 2, High: 4, LowBelow: 1.49, HighAbove: 1.76, Unit: "times pine", OddsLow: trials.NewOdds(330, 333), OddsHigh: trials.NewOdds(280, 333), Measure: "count spotted stalks"},
			{Parameter: "heated mass of a cabinet", Low: 3, High: 3, LowBelow: 240, HighAbove: 290, Unit: "kg", OddsLow: trials.NewOdds(312, 333), OddsHigh: trials.NewOdds(310, 333)},
		},
		Guarantee: decide.Guarantee{Level: 0.95, Enough: 3, NotEnough: 2, Seasons: 1000, Looks: 1, Planned: 2},
		Short: decide.Shortage{
			Seasons: 30, OfAll: 300, Months: 40, Alone: trials.NewOdds(35, 40), Two: trials.NewOdds(3, 40),
			Single: []decide.ShortOf{{Thing: "half as many cutting hours again", Met: trials.NewOdds(30, 40)}, {Thing: "dryers that never break", Met: trials.NewOdds(20, 40)}},
			Pairs:  []decide.ShortOf{{Thing: "half as many cutting hours again, and dryers that never break", Met: trials.NewOdds(3, 40)}},
		},
		Money: earned(5),
		Worth: &decide.Worth{All: mean(310), Chosen: 3, Each: []decide.WorthOfOne{{Parameter: "mould growth", Measure: "count spotted stalks", Value: mean(200)}}},
	}
}

func TestSentences(t *testing.T) {
	a := answer()
	assert.Equal(t, "3 dryers (one each at North Landing, Heron Point and Old Sluice): the worst month, July, is met in 93 % (92 to 95 %) of 1,000 seasons, where 9 seasons of 10 were asked for.", Sentence(a))
	assert.Equal(t, "With 2 it is 79 % (76 to 81 %) (July); with 4 it would be 97 % (96 to 98 %).", neighbours(a))
	assert.Equal(t, []string{"It would be 2 if the mould growth is low (below 1.49 times pine), 4 if it is high (above 1.76 times pine)."}, swingWords(a, 2))
	assert.Contains(t, Proven(a), "Proven at 95 % confidence over 1,000 seasons: 3 is enough and 2 is not.")
	assert.Equal(t, []string{"Measure first the mould growth: the worst month is met in 99 % (97 to over 99 %) of seasons in its low third and in 84 % (80 to 88 %) in its high third. How: count spotted stalks."}, measureFirst(a))
	assert.Contains(t, measureFirst(decide.Answer{Swings: []decide.Swing{{Measure: "x", OddsLow: trials.NewOdds(30, 33), OddsHigh: trials.NewOdds(28, 33)}}})[0], "No single measurement")
	assert.Equal(t, []string{"Of 40 missed months in 300 seasons, half as many cutting hours again would have met most: 30 (75 % (59 to 87 %)); then dryers that never break 20; 5 needed two things at once or more."}, shortWords(a.Short))

	a.Guarantee = decide.Guarantee{Level: 0.95, Enough: 4, NotEnough: 2, Undecided: []int{3}, Seasons: 2000, MoreNeed: 8200, Fewer: 3, Pairs: 9000}
	assert.Contains(t, Proven(a), "4 is enough and 2 is not; 3 is undecided. About 8,200 seasons would settle that (--limit). In 3 of 9,000 comparisons")
	a.Guarantee = decide.Guarantee{Level: 0.95, Enough: -1, NotEnough: 2, Undecided: []int{3, 4}, Seasons: 2000}
	assert.Contains(t, Proven(a), "Not proven enough: 2 is proven too few at 95 % confidence over 2,000 seasons; 3 and 4 are undecided.")
	a.Guarantee = decide.Guarantee{Level: 0.95, Enough: -1, NotEnough: 4, Seasons: 2000}
	assert.Contains(t, Proven(a), "none of the numbers tried, up to 4, is enough")
	a.Needed = -1
	assert.Contains(t, Sentence(a), "No number of dryers up to 4 meets the worst month in 9 seasons of 10: the best, 4 dryers, meets July")

	assert.Equal(t, "", losesFirst(a, 3, "T$"))
	a.Money[3].Net = trials.Mean{Mean: -1200, Low: -1500, High: -900, Seasons: 1000}
	assert.Equal(t, "This loses money, T$ 1,200 (900 to 1,500) a year: ", losesFirst(a, 3, "T$"))
	assert.Equal(t, "under 1 %", percent(0.001))
	assert.Equal(t, "over 99 %", percent(0.9999))
	assert.Equal(t, "100 %", percent(1))
	assert.Equal(t, "0 %", percent(0))
	assert.Equal(t, "19 seasons of 20", ofTen(0.95))
	assert.Equal(t, "two at B, one at A", where([]string{"A", "B"}, []int{1, 2}))
}

// The text, page and charts of a made-up answer; `go test ./report -update` rewrites them.
func TestGolden(t *testing.T) {
	r, err := ForDryers(answer(), "T$")
	require.NoError(t, err)
	r.Assumptions = []sim.Assumption{{Name: "mould growth", Value: "1, 1.5, 2.5 times pine", Source: "assumption", VariedInTrials: true}}
	r.Reproduce = []string{"drystalk dryers"}
	golden(t, "dryers.txt", []byte(r.Text()))
	files, err := r.Files()
	require.NoError(t, err)
	names := map[string][]byte{}
	for _, f := range files {
		names[f.Name] = f.Data
	}
	for _, name := range []string{"odds-by-dryers.svg", "months.svg", "losses.svg", "what-was-short.svg", "report.html"} {
		require.Contains(t, names, name)
		golden(t, name, names[name])
	}
	for _, name := range []string{"odds-by-dryers.png", "months.png", "losses.png"} {
		assert.True(t, strings.HasPrefix(string(names[name]), "\x89PNG"), name)
	}
	page := string(names["report.html"])
	assert.False(t, strings.Contains(page, "Lake <b>"), "names are escaped")
	assert.True(t, strings.Contains(page, "Lake &lt;b&gt; &amp; &#34;Tavari&#34;"))
	for _, outside := range []string{" src=", " href=", "@import", "url("} {
		assert.False(t, strings.Contains(page, outside), "nothing is loaded from elsewhere: %s", outside)
	}
}

// A season's tables, by hand.
func TestSeason(t *testing.T) {
	l := sim.RegionLedger{
		Season: 4, Sites: []sim.SiteLedger{{Site: "Stone Weir", Dryers: 1, Months: []sim.SiteMonth{{Cut: 1000, ToHub: 900, Second: 100, NotCutRain: 50}}}},
		Hub: []sim.HubMonth{{Month: time.July, Arrived: 900, RefusedAtGate: 90, Asked: 1000, Delivered: 810}},
	}
	assert.Equal(t, "Here, season 4: 0 of 1 contract months are met; missed: July (810 of 1,000).", SeasonSentence("Here", l))
	assert.Contains(t, SiteTable(l.Sites[0], l.Hub).Text(), "50 rain")
	l.Hub[0].Met = true
	assert.Equal(t, "Here, season 4: all 1 contract months are met.", SeasonSentence("Here", l))
}

// The story of a month says the weather, what was cut and lost, what the dryers did, what
// was short and how the contract fared, by hand.
func TestStory(t *testing.T) {
	day := func(rain float64, short string) sim.SiteDay {
		return sim.SiteDay{RainMM: rain, Short: short, Shift: sim.DryerHours{Firing: 6, NoWood: 6}}
	}
	l := sim.RegionLedger{
		Sites: []sim.SiteLedger{{
			Site: "Stone Weir", Dryers: 1, Days: []sim.SiteDay{day(0.4, ""), day(20, "wood"), day(31, "wood")},
			Months: []sim.SiteMonth{{Cut: 1000, ToHub: 700, Second: 200, Rejected: 100, NotCutRain: 50, Charges: 2, Shift: sim.DryerHours{Firing: 18, NoWood: 18}}},
		}},
		Hub: []sim.HubMonth{{Month: time.July, Arrived: 700, Asked: 1000, Delivered: 700}},
	}
	story := Story(l, []sim.Span{{Month: time.July, FirstDay: 0, LastDay: 2}})
	assert.Equal(t, []string{"July: 51 mm of rain on 2 days. 1,000 stalks were cut; 50 more were not cut because of the rain. 300 were lost to the contract, most of them second grade." +
		" The dryers finished 2 charges and fired 18 of 36 shift hours; most of the rest, 18 h, they stood: no wood." +
		" Of 3 days at all sites together something was short on 2: wood (2 days). The contract is missed: 700 of 1,000."}, story)
	chart, err := UseChart("Stone Weir", l.Sites, 0, 2, func(int) string { return "1 Jul" })
	require.NoError(t, err)
	data, err := chart.Encode("svg")
	require.NoError(t, err)
	assert.Contains(t, string(data), "no time, people or wood")
}

// Files are written whole, into a folder that is made, and a failure leaves nothing.
func TestWriteFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	paths, err := WriteFiles(dir, []File{{"a.txt", []byte("one")}, {"b.txt", []byte("two")}})
	require.NoError(t, err)
	assert.Len(t, paths, 2)
	_, err = WriteFiles(dir, []File{{"missing/c.txt", []byte("x")}})
	require.Error(t, err)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "no temporary file stays")
}
