package answers_test

import (
	"context"
	"fmt"
	"log"

	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/plans"
)

// group is a scenario of one group, small enough for an example; all numbers are invented.
const group = `region: Stone Weir group
season: {start: 1 jun, days: 61}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 17000, jul: 24000}}
money: {price_per_good_stalk: 0.12, pay_per_stalk_cut: 0.04, wood_per_kg: 0.1, dryer_cost: 2000, dryer_life_years: 4, clear_roof_per_m2: 20}
sites: {Stone Weir: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 2}}
`

// scenario reads the scenario of the group.
func scenario() *scenarios.Scenario {
	s, err := scenarios.Read("group.yaml", []byte(group))
	if err != nil {
		log.Fatal(err)
	}
	return s
}

// plan returns the plan of the group with seed 1.
func plan() plans.Case {
	c, err := scenario().Setup(1)
	if err != nil {
		log.Fatal(err)
	}
	return c
}

// A small study: the odds of the worst month for four ways of spreading stalks, each through
// the same 200 seasons.
func Example() {
	base := scenario()
	for _, kgPerM2 := range []string{"5", "8", "10", "15"} {
		s, err := base.With([]string{"Stone Weir: loading_kg_per_m2=" + kgPerM2})
		if err != nil {
			log.Fatal(err)
		}
		c, err := s.Setup(1)
		if err != nil {
			log.Fatal(err)
		}
		options := answers.DefaultOdds()
		options.Seasons, options.Short = 200, 0
		a, err := answers.Odds(context.Background(), c, options, nil)
		if err != nil {
			log.Fatal(err)
		}
		worst := a.Plan.WorstMonth()
		fmt.Printf("%s kg per m2: %s met in %.0f %% (%.0f to %.0f %%)\n", kgPerM2, worst.Name, 100*worst.Odds.Share, 100*worst.Odds.Low, 100*worst.Odds.High)
	}
	// Output:
	// 5 kg per m2: July met in 93 % (89 to 96 %)
	// 8 kg per m2: July met in 86 % (80 to 90 %)
	// 10 kg per m2: July met in 84 % (78 to 89 %)
	// 15 kg per m2: July met in 74 % (67 to 80 %)
}

// With what odds does the plan as written meet its months?
func ExampleOdds() {
	options := answers.DefaultOdds()
	options.Seasons = 100
	a, err := answers.Odds(context.Background(), plan(), options, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range a.Plan.Months {
		fmt.Printf("%s: met in %d of %d seasons\n", m.Name, m.Odds.Met, m.Odds.Seasons)
	}
	fmt.Println(a.Asked.Command)
	// Output:
	// June: met in 96 of 100 seasons
	// July: met in 88 of 100 seasons
	// drystalk odds group.yaml --seed 1 --seasons 100 --short 60
}

// How many dryers does the group need?
func ExampleDryers() {
	options := answers.DefaultDryers()
	options.Seasons, options.Search, options.Short = 100, 40, 0
	a, err := answers.Dryers(context.Background(), plan(), options, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, p := range a.Answer.Plans {
		fmt.Printf("%d dryers: worst month met in %d of %d seasons\n", p.Dryers, p.WorstMonth().Odds.Met, p.WorstMonth().Odds.Seasons)
	}
	// Output:
	// 0 dryers: worst month met in 4 of 200 seasons
	// 1 dryers: worst month met in 168 of 200 seasons
	// 2 dryers: worst month met in 182 of 200 seasons
}

// What does a second dryer do, in the same seasons?
func ExampleCompare() {
	today := scenario()
	second, err := today.With([]string{"Stone Weir: dryers=2"})
	if err != nil {
		log.Fatal(err)
	}
	pair, err := scenarios.Pair(today, second, 1)
	if err != nil {
		log.Fatal(err)
	}
	options := answers.DefaultCompare()
	options.Seasons, options.Futures = 60, 30
	a, err := answers.Compare(context.Background(), pair, options, nil)
	if err != nil {
		log.Fatal(err)
	}
	delivered := a.Comparison.Totals[0]
	fmt.Printf("%s: %.0f, with a second dryer %.0f\n", delivered.Of, delivered.A.Mean, delivered.B.Mean)
	// Output:
	// delivered: 40480, with a second dryer 40746
}

// Which contract can the group promise, without a stock before the rains?
func ExamplePromise() {
	options := answers.DefaultPromise()
	options.Seasons, options.Search, options.StockAt = 60, 30, "none"
	a, err := answers.Promise(context.Background(), plan(), options, nil)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d good stalks a month, in %.0f seasons of 10\n", a.Promise.Flat, 10*a.Promise.Target)
	// Output:
	// 16080 good stalks a month, in 9 seasons of 10
}

// What does a budget buy first?
func ExampleSpend() {
	options := answers.DefaultSpend(4000)
	options.Seasons, options.Search = 60, 30
	a, err := answers.Spend(context.Background(), plan(), options, nil)
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range a.Spending.Steps {
		for _, what := range step.What {
			fmt.Printf("%v %v at %s for %.0f\n", what.Size, what.Of, step.Site, step.Cost)
		}
	}
	// Output:
	// 1 dryers at Stone Weir for 3200
	// 60 clear_roofs at Stone Weir for 3200
}

// What happened in one season, and why was a month missed?
func ExampleSeason() {
	options := answers.DefaultSeason()
	options.Number = 4
	a, err := answers.Season(context.Background(), plan(), options)
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range a.Ledger.Hub {
		fmt.Printf("%s: asked %d, delivered %d\n", m.Month, m.Asked, m.Delivered)
	}
	for _, w := range a.Why {
		fmt.Printf("%s would have been met with: %v\n", w.Month, w.MetWith)
	}
	// Output:
	// June: asked 17000, delivered 17000
	// July: asked 24000, delivered 20854
	// July would have been met with: [stock_ahead other_people sealed_bags dry_store any_rain]
}

// How long does a pre-dried load take, and how much wood?
func ExampleLoad() {
	options := answers.DefaultLoad()
	options.Moisture = 0.41
	a, err := answers.Load(plan(), options)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%d stalks: %.1f h of fire, %.0f kg of wood\n", a.Stalks, a.DryingH, a.WoodKg)
	// Output:
	// 1500 stalks: 2.6 h of fire, 8 kg of wood
}

// What can be asked of a question, and what it is unless stated.
func ExampleOptionsOf() {
	options := answers.DefaultDryers()
	for _, o := range answers.OptionsOf(&options) {
		fmt.Printf("--%s=%s\n", o.Flag, o.Value())
	}
	// Output:
	// --seasons=1000
	// --workers=0
	// --record=
	// --search=100
	// --limit=0
	// --short=60
}
