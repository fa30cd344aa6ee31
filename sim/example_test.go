package sim_test

import (
	"fmt"
	"log"

	"drystalk/scenarios"
	"drystalk/sim"
)

// One season in ten lines: a scenario becomes a plan, a season is drawn, and the sites live
// through it.
func ExampleRunner_Ledger() {
	s, err := scenarios.Demo(scenarios.LakeTavari)
	if err != nil {
		log.Fatal(err)
	}
	plan, err := s.Setup(1)
	if err != nil {
		log.Fatal(err)
	}
	season, err := plan.Setup.Season(417)
	if err != nil {
		log.Fatal(err)
	}
	ledger, err := sim.NewRunner(plan.Setup.Region).Ledger(season)
	if err != nil {
		log.Fatal(err)
	}
	august := ledger.Sites[1].Months[5]
	fmt.Printf("%s: cut %d, to the hub %d\n", ledger.Sites[1].Site, august.Cut, august.ToHub)
	for _, id := range sim.OfKinds(sim.Lost) {
		fmt.Printf("  %v: %.0f\n", id, id.Figure().Of(&august))
	}
	// Output:
	// Heron Point: cut 107574, to the hub 8293
	//   second_grade: 34072
	//   rejected: 3863
	//   thrown_out: 65126
	//   broken: 0
}
