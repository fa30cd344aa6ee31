package trials_test

import (
	"context"
	"fmt"
	"log"

	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/trials"
)

// setup is the demo of one cooperative.
func setup() trials.Setup {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	if err != nil {
		log.Fatal(err)
	}
	c, err := s.Setup(1)
	if err != nil {
		log.Fatal(err)
	}
	return c.Setup
}

// A table of ten seasons with none, one and two dryers, all through the same weather and luck.
func ExampleSetup_Table() {
	table, err := setup().Table(context.Background(), 0, 10, trials.Upto([]int{2}), nil)
	if err != nil {
		log.Fatal(err)
	}
	for dryers := range 3 {
		cut, second := 0.0, 0.0
		for i := range table.Seasons {
			cut += table.Of(sim.Cut, []int{dryers}, i)
			second += table.Of(sim.Second, []int{dryers}, i)
		}
		fmt.Printf("%d dryers: %.0f %% of the cut ends as second grade\n", dryers, 100*second/cut)
	}
	// Output:
	// 0 dryers: 21 % of the cut ends as second grade
	// 1 dryers: 34 % of the cut ends as second grade
	// 2 dryers: 16 % of the cut ends as second grade
}

// One season, as season --number 417 shows it.
func ExampleSetup_Ledger() {
	ledger, err := setup().Ledger(417)
	if err != nil {
		log.Fatal(err)
	}
	for _, m := range ledger.Hub[1:4] {
		fmt.Printf("%s: arrived %d, delivered %d of %d\n", m.Month, m.Arrived, m.Delivered, m.Asked)
	}
	// Output:
	// April: arrived 35997, delivered 30000 of 30000
	// May: arrived 36939, delivered 30000 of 30000
	// June: arrived 33758, delivered 30000 of 30000
}

// The interval of odds counted in trials (Clopper and Pearson 1934).
func ExampleNewOdds() {
	o := trials.NewOdds(92, 100)
	fmt.Printf("%.2f (%.3f to %.3f)\n", o.Share, o.Low, o.High)
	// Output:
	// 0.92 (0.848 to 0.965)
}
