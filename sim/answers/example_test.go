package answers_test

import (
	"context"
	"fmt"
	"os"

	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/weather"
)

// group is a small plan: one site, two months, prices.
const group = `region: Stone Weir group
currency: coins
season: {start: 16 jun, days: 36}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 9000, jul: 12000}}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, dryer_cost: 2000, dryer_life_years: 2, clear_roof_per_m2: 20}
yard: {stalks_are_spread: at_full_load, cutting_stops_at: full_yard}
sites: {Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}}
`

// must ends an example that cannot go on.
func must[T any](x T, err error) T {
	if err != nil {
		panic(err)
	}
	return x
}

// scenario is the small plan as read from a file.
func scenario() *scenarios.Scenario { return must(scenarios.Read("group.yaml", []byte(group))) }

func ExampleOdds() {
	options := answers.DefaultOdds()
	options.Seasons, options.Short = 40, 5
	a := must(answers.Odds(context.Background(), must(scenario().Setup(1)), options, nil))
	for _, m := range a.Plan.Months {
		fmt.Printf("%s: met in %d of %d seasons\n", m.Name, m.Odds.Met, m.Odds.Seasons)
	}
	fmt.Println(a.Asked.Command)
	// Output:
	// June: met in 32 of 40 seasons
	// July: met in 37 of 40 seasons
	// drystalk odds group.yaml --seed 1 --seasons 40 --short 5
}

func ExampleDryers() {
	options := answers.DefaultDryers()
	options.Seasons, options.Search, options.Limit, options.Short = 40, 30, 80, 5
	a := must(answers.Dryers(context.Background(), must(scenario().Setup(1)), options, nil)).Answer
	for _, p := range a.Plans {
		worst := p.WorstMonth()
		fmt.Printf("%d dryers: %s met in %d of %d seasons\n", p.Dryers, worst.Name, worst.Odds.Met, worst.Odds.Seasons)
	}
	fmt.Println("to fund:", a.Plans[a.Needed].Dryers, "proven enough:", a.Proof.Enough)
	// Output:
	// 1 dryers: June met in 63 of 80 seasons
	// 2 dryers: June met in 77 of 80 seasons
	// 3 dryers: June met in 77 of 80 seasons
	// to fund: 2 proven enough: -1
}

func ExampleCompare() {
	today := scenario()
	more := must(today.With([]string{"Stone Weir: dryers=2"}))
	options := answers.DefaultCompare()
	options.Seasons, options.Futures = 40, 30
	a := must(answers.Compare(context.Background(), must(scenarios.Pair(today, more, 1)), options, nil))
	fmt.Println("changed:", a.Differences[0].Key, "from", a.Differences[0].A, "to", a.Differences[0].B)
	for _, m := range a.Comparison.Months {
		fmt.Printf("%s: met in %d, then in %d of %d seasons\n", m.Name, m.OddsA.Met, m.OddsB.Met, m.OddsB.Seasons)
	}
	// Output:
	// changed: sites.Stone Weir.dryers from 1 to 2
	// June: met in 32, then in 38 of 40 seasons
	// July: met in 37, then in 39 of 40 seasons
}

func ExamplePromise() {
	options := answers.DefaultPromise()
	options.Seasons, options.Search, options.StockAt = 40, 30, "none"
	p := must(answers.Promise(context.Background(), must(scenario().Setup(1)), options, nil)).Promise
	fmt.Printf("%d good stalks a month, met in %d of %d seasons\n", p.Flat, p.Worst.Odds.Met, p.Worst.Odds.Seasons)
	// Output:
	// 5400 good stalks a month, met in 40 of 40 seasons
}

func ExampleSpend() {
	options := answers.DefaultSpend(5000)
	options.Seasons, options.Search = 40, 30
	s := must(answers.Spend(context.Background(), must(scenario().Setup(1)), options, nil)).Spending
	for _, step := range s.Steps {
		fmt.Printf("%.0f %s for %.0f coins at %s, then %s is met in %d of %d seasons\n", step.What[0].Size, step.What[0].Of, step.Cost.Units(), step.Site, step.Worst.Name, step.Worst.Odds.Met, step.Worst.Odds.Seasons)
	}
	// Output:
	// 20 clear_roofs for 400 coins at Stone Weir, then June is met in 33 of 40 seasons
	// 20 clear_roofs for 400 coins at Stone Weir, then June is met in 34 of 40 seasons
	// 1 dryers for 2000 coins at Stone Weir, then June is met in 38 of 40 seasons
}

func ExampleWays() {
	options := answers.DefaultWays()
	options.Seasons, options.Search, options.Judge = 40, 30, 30
	w := must(answers.Ways(context.Background(), must(scenario().Setup(1)), options, nil)).Ways
	fmt.Printf("as it is, %s is met in %d of %d seasons\n", w.Now.Worst, w.Now.Odds.Met, w.Now.Odds.Seasons)
	for _, row := range w.Together {
		c := row.Changes[len(row.Changes)-1]
		fmt.Printf("with %s at %g instead of %g, %s in %d\n", c.Lever, c.To, c.From, row.Worst, row.Odds.Met)
	}
	// Output:
	// as it is, June is met in 32 of 40 seasons
	// with collections at 6 instead of 2, June in 37
	// with loading at 6 instead of 10, June in 38
}

func ExampleSeason() {
	options := answers.DefaultSeason()
	options.Number = 1 // of an answer with the same seed
	a := must(answers.Season(context.Background(), must(scenario().Setup(1)), options))
	for _, m := range a.Ledger.Hub {
		fmt.Printf("%s: %d of %d delivered\n", m.Month, m.Delivered, m.Asked)
	}
	for _, w := range a.Why {
		fmt.Println(w.Month, "is met with any of", w.MetWith)
	}
	// Output:
	// June: 5484 of 9000 delivered
	// July: 12000 of 12000 delivered
	// June is met with any of [stock_ahead no_breakdowns one_dryer_more]
}

func ExampleLoad() {
	options := answers.DefaultLoad()
	options.Moisture = 0.41 // dried on the rack first
	a := must(answers.Load(scenario().WithoutWeather(1), options))
	fmt.Printf("%d stalks: %.1f h, %.0f kg of wood\n", a.Stalks, a.DryingH, a.WoodKg)
	// Output:
	// 1500 stalks: 2.4 h, 8 kg of wood
}

// The fewest simulated years that are allowed make the judgement quick, and rough.
func ExampleFitWeather() {
	file := must(os.Open("../../testdata/records/mumbai_colaba_IN012070300_daily_rain_1901_1970.csv"))
	defer func() { _ = file.Close() }()
	record := must(weather.ReadRecord("colaba.csv", file))
	options := answers.DefaultFit()
	options.Years = 200
	climate := must(answers.FitWeather(record, must(scenarios.StationNormals("43057")), options))
	report := must(answers.AssessWeather(record, climate, options))
	fmt.Println(climate.FittedYears, "years:", report.Verdict)
	// Output:
	// 69 years: good for planning
}

// A fault of an option names it, what was found and what is allowed.
func ExampleFault() {
	options := answers.DefaultOdds()
	options.Seasons = 5
	_, err := answers.Odds(context.Background(), scenario().WithoutWeather(1), options, nil)
	fmt.Println(err)
	// Output:
	// --seasons: found 5, allowed: 30 to 1000000
}

// Any program can show a form of a question's options.
func ExampleOptionsOf() {
	options := answers.DefaultCompare()
	for _, o := range answers.OptionsOf(&options) {
		fmt.Printf("%s (%s): %s\n", o.Flag, o.Allowed(), o.Value())
	}
	// Output:
	// seasons (30 to 1000000): 1000
	// workers (0 to 256): 0
	// futures (30 to 100000): 200
}
