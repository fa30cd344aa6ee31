package study_test

import (
	"context"
	"fmt"

	"drystalk/scenarios"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
)

// A study of two points from a program of one's own, kept in memory. The command gives the same
// digest for a file that says the same.
func Example() {
	today, err := scenarios.Demo(scenarios.OneCooperative)
	if err != nil {
		fmt.Println(err)
		return
	}
	more, err := today.With([]string{"Heron Point: dryers=2"})
	if err != nil {
		fmt.Println(err)
		return
	}
	s := &study.Study{
		Seed: 1, Seasons: 20, Block: 10,
		Factors: []tidy.Column{{Name: "dryers", Kind: tidy.Real}},
		Points: []study.Point{
			{Name: "today", Levels: []tidy.Cell{tidy.Number(1)}, Plan: today},
			{Name: "a second dryer", Levels: []tidy.Cell{tidy.Number(2)}, Plan: more},
		},
	}
	var store study.Memory
	todo, err := s.Missing(context.Background(), &store)
	if err == nil {
		err = s.Fill(context.Background(), &store, todo, 2, nil)
	}
	if err != nil {
		fmt.Println(err)
		return
	}
	result, err := s.Merge(context.Background(), &store, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(todo), "shards,", result.Trials, "seasons")
	for _, line := range result.Summary {
		if line.Of == "asked_stalks" {
			fmt.Printf("%s: %.0f %s asked for, %d seasons\n", s.Points[line.Point].Name, line.Estimate, line.Unit, line.N)
		}
	}
	// Output:
	// 4 shards, 40 seasons
	// today: 210000 stalks asked for, 20 seasons
	// a second dryer: 210000 stalks asked for, 20 seasons
}
