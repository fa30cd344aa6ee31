package sample

import (
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// Promise is a made-up promise of 30,600 stalks a month, a little less than the contract asks for.
func Promise() decide.Promise {
	july := decide.MonthResult{Name: "July", Odds: trials.NewOdds(925, 1000)}
	return decide.Promise{
		Target: 0.9, Seasons: 1000, Flat: 30_600, Part: 0.85, Odds: july.Odds, Worst: july, Next: 30_900, NextOdds: trials.NewOdds(912, 1000), MonthSeasons: 200,
		Months: []decide.Promised{{Name: "May", Stalks: 74_000, Odds: trials.NewOdds(180, 200)}, {Name: "June", Stalks: 52_000, Odds: trials.NewOdds(181, 200)}, {Name: "July", Stalks: 31_000, Odds: trials.NewOdds(180, 200)}},
	}
}
