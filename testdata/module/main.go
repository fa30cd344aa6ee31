// A program of somebody's own: the odds of the demo's worst month with shifts of other lengths,
// all through the same seasons, as lines of CSV.
package main

import (
	"context"
	"fmt"
	"log"

	"drystalk/scenarios"
	"drystalk/sim/answers"
)

func main() {
	demo, err := scenarios.Demo(scenarios.OneCooperative)
	if err != nil {
		log.Fatal(err)
	}
	options := answers.DefaultOdds()
	options.Seasons, options.Short = 60, 0
	fmt.Println("shift_end_h,month,met,seasons")
	for _, hour := range []int{17, 19, 22} {
		s, err := demo.With([]string{fmt.Sprintf("dryer: shift_end_h=%d", hour)})
		if err != nil {
			log.Fatal(err)
		}
		plan, err := s.Setup(1)
		if err != nil {
			log.Fatal(err)
		}
		a, err := answers.Odds(context.Background(), plan, options, nil)
		if err != nil {
			log.Fatal(err)
		}
		worst := a.Plan.WorstMonth()
		fmt.Printf("%d,%s,%d,%d\n", hour, worst.Name, worst.Odds.Met, worst.Odds.Seasons)
	}
}
