package chart

import (
	"flag"
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/ahead"
	"drystalk/sim/charge"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
)

var update = flag.Bool("update", false, "rewrite the pictures")

// pictures draw every chart from made-up results, by the function that draws it.
var pictures = map[string]func() (Chart, error){
	"Odds": func() (Chart, error) { return Odds(sample.Answer()) },
	"HubStock": func() (Chart, error) {
		return HubStock(StockOf{"without a dryer", sample.Answer().Plans[0]}, StockOf{"with 3 dryers", sample.Answer().Plans[3]})
	},
	"SoFar":      func() (Chart, error) { return SoFar(borrowed(), "coins") },
	"Losses":     func() (Chart, error) { return Losses(sample.Answer().Plans[3]) },
	"Short":      func() (Chart, error) { return Short(sample.Answer().Short) },
	"Hours":      func() (Chart, error) { return Hours(worked()) },
	"Payback":    func() (Chart, error) { return Payback(*sample.Comparison().Purchase, "coins") },
	"Budgets":    func() (Chart, error) { return Budgets(budgets(), 0.9, "coins") },
	"Spending":   func() (Chart, error) { return Spending(bought(), 0.9, "coins") },
	"Stock":      func() (Chart, error) { return Stock("Heron Point", days(), Days{2, 17, dayOf}) },
	"StockAhead": func() (Chart, error) { return StockAhead(lying14July()) },
	"Places":     func() (Chart, error) { return Places(lakeSites()) },
	"Glance": func() (Chart, error) {
		return Glance("Heron Point", []sim.SiteLedger{{Days: days()}, {Days: days()}}, Days{2, 17, dayOf}, []Pickup{{Day: 8, Must: 4000}, {Day: 16, Must: 4000}})
	},
	"Use": func() (Chart, error) {
		return Use("Heron Point", []sim.SiteLedger{{Days: days()}, {Days: days()}}, Days{2, 17, dayOf})
	},
	"Residuals": func() (Chart, error) {
		return Residuals(Fitted("charges-residuals", "Loads beside the fit", "moisture out, read less expected (points)"), []Off{{4, 0.5, 1.2}, {5, -1.4, 0.8}, {7, 0.1, 1.5}})
	},
	"Course": func() (Chart, error) {
		c := charge.Default()
		return Course(c.Curve(charge.Ambient{TempC: 28, VapourKPa: 3}, charge.Load{Lots: []charge.Lot{{DryKg: 5.85, Moisture: 10.11}}}, 1.0/60), 0.14, words.Drawn{Low: 5.7, High: 9.6, Draws: 100}, words.Drawn{Low: 35, High: 86, Draws: 100})
	},
	"Differs": func() (Chart, error) {
		return Differs(words.Compared{Result: sample.Comparison(), Worst: 0.9, Changes: []words.Change{{Key: "Heron Point.dryers", A: "1", B: "2"}}})
	},
	"Promise": func() (Chart, error) { return Promise(sample.Promise(), contract()) },
	"Ways":    func() (Chart, error) { return Ways(sample.Ways()) },
	"Beside":  func() (Chart, error) { return Beside(sample.Rival(), "with 3 dryers", Aim{Target: 0.9}) },
	"Rain":    func() (Chart, error) { return Rain(fitted()) },
	"Spells":  func() (Chart, error) { return Spells(fitted()) },
	"StudyOdds": func() (Chart, error) {
		return StudyOdds([]words.StudyPoint{
			{Name: "climate as_now, dryers 1", All: trials.NewOdds(41, 100)},
			{Name: "climate as_now, dryers 2", All: trials.NewOdds(88, 100)},
			{Name: "climate wetter, dryers 1", All: trials.NewOdds(0, 100)},
			{Name: "climate wetter, dryers 2", All: trials.NewOdds(100, 100)},
		})
	},
	"StudyEffects": func() (Chart, error) {
		effect := func(input string, mean, low, high float64) words.StudyEffect {
			return words.StudyEffect{Point: "as written", Outcome: "delivered_stalks", Input: input, What: "total index", Effect: trials.Mean{Mean: mean, Low: low, High: high}}
		}
		return StudyEffects([]words.StudyEffect{effect("skin_factor", 0.2, 0.1, 0.3), effect("output_factor", 0.7, 0.6, 0.8), effect("living_h", 0.01, -0.02, 0.03)})
	},
}

// Every chart looks as it did, to the byte (go test ./report/chart -update rewrites the
// pictures), and can be drawn as PNG too. No chart is without its picture.
func TestPictures(t *testing.T) {
	require.ElementsMatch(t, drawers(t), names())
	for of, draw := range pictures {
		c, err := draw()
		require.NoError(t, err, of)
		assert.NotEmpty(t, c.Alt, "%s: words for those who do not see it", of)
		got, err := c.Encode("svg")
		require.NoError(t, err, of)
		path := filepath.Join("../../testdata/golden", c.Name+".svg")
		if *update {
			require.NoError(t, os.WriteFile(path, got, 0o644))
		}
		want, err := os.ReadFile(path)
		require.NoError(t, err, of)
		assert.Equal(t, string(want), string(got), of)
		png, err := c.Encode("png")
		require.NoError(t, err, of)
		assert.True(t, strings.HasPrefix(string(png), "\x89PNG"), of)
	}
}

func names() (out []string) {
	for of := range pictures {
		out = append(out, of)
	}
	return out
}

// drawers are the exported functions of the package that return a chart.
func drawers(t *testing.T) (out []string) {
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, name := range files {
		tree, err := parser.ParseFile(token.NewFileSet(), name, nil, 0)
		require.NoError(t, err)
		for _, d := range tree.Decls {
			f, ok := d.(*ast.FuncDecl)
			if !ok || f.Recv != nil || !f.Name.IsExported() || f.Type.Results == nil {
				continue
			}
			if first, ok := f.Type.Results.List[0].Type.(*ast.Ident); ok && first.Name == "Chart" {
				out = append(out, f.Name.Name)
			}
		}
	}
	return out
}

func dayOf(day int) (time.Month, int) { return time.July, day + 1 }

// days are made-up days of a site with two dryers; every third day it rains.
func days() []sim.SiteDay {
	out := make([]sim.SiteDay, 20)
	for i := range out {
		d := &out[i]
		d.Day, d.ToHub, d.OnRacks, d.InHeap, d.InStore, d.InDryers = i, 4500*(i%8/7), 3000+400*i, 100*(i%5), 600*(i%9), 1500*(i%2)
		if i%3 == 0 {
			d.RainMM = 12 * float64(1+i%7)
		}
		for k, state := range sim.DryerStates() {
			d.Shift[state] = float64((i+k)%4) / 2
		}
	}
	return out
}

// worked is a made-up plan whose dryers were in every state but one.
func worked() decide.PlanResult {
	p := sample.Plan(2, []int{1, 1}, 960, 790)
	for k, state := range sim.DryerStates() {
		h := 100 * float64(len(sim.DryerStates())-1-k)
		p.Flow.Figures[state.Figure()], p.Flow.Spread.Figures[state.Figure()] = sample.Mean(h), sample.Band(h)
	}
	return p
}

// lying14July is a made-up stock on a day of the season and by the end of two months.
func lying14July() ahead.Answer {
	band := func(low, middle, high float64) trials.Band {
		return trials.Band{P5: low, Median: middle, P95: high, Seasons: 200}
	}
	return ahead.Answer{Today: "14 July", Stock: []ahead.Stock{
		{Date: "14 Jul", Needed: 21_000, Expected: band(26_000, 26_000, 26_000)}, {Date: "July", Needed: 18_000, Expected: band(17_000, 24_000, 29_000)}, {Date: "August", Needed: 4000, Expected: band(2000, 11_000, 17_000)},
	}}
}

// lakeSites are made-up sites by a lake, two of which lie in one place.
func lakeSites() []Place {
	return []Place{
		{Name: "North Landing", Dryers: 1, RackM2: 125, Share: 0.3, At: &Point{17.2, 80.1}},
		{Name: "Heron Point", Dryers: 3, Stand: 1, RackM2: 150, Share: 0.4, At: &Point{17.0, 80.3}},
		{Name: "Upper Backwater Landing of the Village", RackM2: 75, Share: 0.2, At: &Point{17.1, 80.2}},
		{Name: "Ferry Bank", Dryers: 1, RackM2: 50, Share: 0.1, At: &Point{17.1, 80.2}},
	}
}

// borrowed is a made-up purchase whose loan ends after three years.
func borrowed() money.Purchase {
	p := *sample.Comparison().Purchase
	p.Loan, p.Months = money.Of(3000), 36
	return p
}

// bought is a made-up list of two steps.
func bought() spend.Answer {
	step := func(spent money.Amount, met int) spend.Bought {
		return spend.Bought{Spent: spent, Odds: trials.NewOdds(met, 1000), Worst: decide.MonthResult{Name: "July", Odds: trials.NewOdds(met, 1000)}}
	}
	return spend.Answer{Budget: money.Of(9000), Start: step(0, 310), Steps: []spend.Bought{step(money.Of(2400), 640), step(money.Of(8200), 930)}}
}

// budgets are the lists of two budgets.
func budgets() []spend.Answer {
	small := bought()
	small.Budget, small.Steps = money.Of(5000), small.Steps[:1]
	return []spend.Answer{small, bought()}
}

// fitted is a made-up report of a fitted generator.
func fitted() weather.FitReport {
	return weather.FitReport{Lines: []weather.Line{
		{Name: "mean rain of Jun", Observed: 330, Simulated: 341, Low: 300, High: 388},
		{Name: "mean rain of Jul", Observed: 512, Simulated: 498, Low: 450, High: 560},
		{Name: "wet spells of at least 5 days", Observed: 3.1, Simulated: 3.4, Low: 2.9, High: 3.9},
		{Name: "dry spells of at least 7 days", Observed: 1.4, Simulated: 1.2, Low: 0.8, High: 1.7},
		{Name: "rain of a year", Observed: 2100, Simulated: 2080, Low: 1800, High: 2400},
	}}
}

// contract is a made-up contract of three months.
func contract() []words.Asked {
	return []words.Asked{{Month: "May", Stalks: 20_000}, {Month: "June", Stalks: 36_000}, {Month: "July", Stalks: 36_000}}
}

// Sites in one place are drawn apart, those that lie apart stay in their order, and all lie in the
// square: a degree of longitude at 60° north is half as wide as one of latitude.
func TestPlacesKeepTheirOrder(t *testing.T) {
	sites := []Place{{At: &Point{60, 20}}, {At: &Point{60, 22}}, {At: &Point{61, 21}}, {At: &Point{61, 21}}}
	at, acrossKm := spread(sites)
	assert.Less(t, at[0].X, at[1].X)
	assert.Less(t, at[0].Y, at[2].Y)
	for i := range at {
		for j := range i {
			assert.Greater(t, math.Hypot(at[i].X-at[j].X, at[i].Y-at[j].Y), 0.95*apartAtLeast, "%d and %d", j+1, i+1)
		}
	}
	assert.InDelta(t, 111.2, acrossKm, 2, "a degree of latitude is 111.2 km (a sixtieth of it a nautical mile, 1,852 m)")
}
