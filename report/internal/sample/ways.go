package sample

import (
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// Ways are made-up better ways of working of six members: thinner spreading and twice the stock reach
// the target, a third change does it alone too.
func Ways() ways.Answer {
	loading := ways.Change{Lever: ways.Loading, From: 10, To: 6}
	stock := ways.Change{Lever: ways.StockAhead, From: 1, To: 2, Factor: true}
	first := ways.Change{Lever: ways.FiredFirst, From: 0, To: 1, Before: "most_at_risk", Choice: "driest"}
	way := func(met int, list ...ways.Change) ways.Way {
		more := float64(met-800) / 1000
		return ways.Way{
			Changes: list, Edits: []string{"Heron Point: loading_kg_per_m2=6", "contract.target_stock_stalks.apr=60000"}, Worst: "July", Odds: trials.NewOdds(met, 1000), All: trials.NewOdds(met-10, 1000),
			Gain: Mean(more), Step: Mean(more / 2), Income: pair(24_000, 23_400), Hours: pair(4800, 4200), PerHour: pair(5, 5.57), WoodKg: pair(4500, 3900), Second: pair(0.27, 0.13),
		}
	}
	a := ways.Answer{
		Region: "Lake Tavari", Sites: []string{"Heron Point"}, Target: 0.9, Seasons: 1000, AloneSeasons: 400, SearchSeasons: 60, JudgeSeasons: 200, Tried: 91, Cutters: money.Members.String(), Members: 6,
		Start: Plan(1, []int{1}, 900, 800), Best: Plan(1, []int{1}, 990, 955), Now: way(800),
		Together: []ways.Way{way(920, loading), way(955, loading, stock)}, Alone: []ways.Way{way(920, loading), way(900, stock), way(810, first)},
		Gains: ways.Gains{Search: Mean(0.2), Judge: Mean(0.17), Fresh: Mean(0.155)}, Hub: decide.HubAir{Humidity: 0.65},
	}
	a.Now.Income, a.Now.Hours, a.Now.WoodKg = pair(24_000, 24_000), pair(4800, 4800), pair(4500, 4500)
	return a
}

// Rival is a made-up rival of three dryers: two that are worked better.
func Rival() ways.Rival {
	return ways.Rival{
		Changes: []ways.Change{{Lever: ways.Loading, From: 10, To: 6}}, Dryers: 2, Seasons: 150, Worst: "July", OfferedDryers: 3,
		Odds: trials.NewOdds(138, 150), Without: trials.NewOdds(117, 150), Offered: trials.NewOdds(141, 150), Reaches: true,
	}
}

// pair is a figure of both ways and the difference.
func pair(a, b float64) money.Pair { return money.Pair{A: Mean(a), B: Mean(b), More: Mean(b - a)} }
