package sample

import (
	"drystalk/sim/ahead"
	"drystalk/sim/trials"
)

// Ahead is a made-up answer on 14 July: July is likely, August is not, and fires in the evening help.
func Ahead() ahead.Answer {
	month := func(name string, met int, gain float64) ahead.Month {
		return ahead.Month{
			Name: name, Collected: []string{"15 " + name, "31 " + name}, Asked: 30_000, Odds: trials.NewOdds(met, 200), Gain: Mean(gain),
			Available: trials.Band{P5: 20_000, Median: 31_000, P95: 36_000, Seasons: 200}, Missing: Mean(1500),
		}
	}
	way := func(key ahead.Key, july, august int, gain float64) ahead.Way {
		money := Mean(1000 * gain)
		w := ahead.Way{Key: key, Months: []ahead.Month{month("July", july, gain), month("August", august, gain)}, Worst: 1, All: trials.NewOdds(august-5, 200), Gain: Mean(gain), Missed: Mean(2000), Money: &money}
		if key == ahead.AsNow {
			w.Money = nil
		}
		return w
	}
	a := ahead.Answer{
		Region: "Lake Tavari", Sites: []string{"Heron Point", "Old Sluice"}, Today: "14 July", Target: 0.9, Seasons: 200, Effective: 200, NightLeft: true,
		Lies: ahead.Lies{Wet: 9000, InDryers: 800, InStores: 2000, AtHub: 12_000, Delivered: 5000},
		Ways: []ahead.Way{way(ahead.AsNow, 180, 100, 0), way(ahead.Evening, 190, 150, 0.25), way(ahead.StopCut, 160, 80, -0.1), way(ahead.RentDryer, 184, 120, 0.1)},
		Stock: []ahead.Stock{
			{Date: "today", Needed: 16_000, Expected: trials.Band{P5: 13_840, Median: 13_840, P95: 13_840, Seasons: 200}, Enough: trials.NewOdds(0, 200)},
			{Date: "31 July", Needed: 9000, Expected: trials.Band{P5: 0, Median: 4000, P95: 11_000, Seasons: 200}, Enough: trials.NewOdds(30, 200)},
		},
		Load: []ahead.Load{
			{Site: "Heron Point", Dryers: 1, Fired: trials.NewOdds(198, 200), AtH: 7.5, Stalks: 1200, Of: []ahead.LoadOf{{DaysAgo: 6, MoistureWet: 0.4, Stalks: 300}, {DaysAgo: 4, MoistureWet: 0.78, Stalks: 890}, {DaysAgo: 1, MoistureWet: 0.9, Stalks: 10}}, DryingH: trials.Band{P5: 3.1, Median: 4, P95: 6.2, Seasons: 198}, WoodKg: trials.Band{P5: 12, Median: 20, P95: 41, Seasons: 198}, Room: trials.NewOdds(10, 198)},
			{Site: "Old Sluice", Dryers: 1, Fired: trials.NewOdds(0, 200)},
		},
	}
	a.Ways[3].Site = "Old Sluice"
	return a
}

// AheadWithTruck adds a truckload that pays, with what was cut behind the odds.
func AheadWithTruck() ahead.Answer {
	a := Ahead()
	worth, money, odds := trials.Mean{Mean: 0.11, Low: 0.1, High: 0.12, Seasons: 200}, trials.Mean{Mean: 400, Low: 200, High: 600, Seasons: 200}, trials.NewOdds(170, 200)
	a.Truck = &ahead.Truck{Stalks: 20_000, On: "20 July", Price: 0.09, Months: a.Ways[1].Months, All: a.Ways[1].All, Gain: Mean(0.2), Sold: Mean(15_000), Money: &money, Worth: &worth, Pays: &odds}
	a.Tallied, a.Weighted, a.Effective, a.Rain, a.Outlook = true, true, 41.3, true, 3
	a.Output = &ahead.Output{Days: 24, Sites: 2, Fewest: 12, Most: 12, Now: trials.Band{P5: 0.8, Median: 0.9, P95: 1.01}, Before: trials.Band{P5: 0.7, Median: 1, P95: 1.35}}
	return a
}
