// Package sample holds made-up results for the tests of reports.
package sample

import (
	"time"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// Mean is a made-up mean of 1,000 seasons.
func Mean(x float64) trials.Mean {
	return trials.Mean{Mean: x, Low: 0.98 * x, High: 1.02 * x, Seasons: 1000}
}

// Band is a made-up spread of 1,000 seasons about what an average one has.
func Band(x float64) trials.Band {
	return trials.Band{P5: 0.7 * x, Median: 0.98 * x, P95: 1.25 * x, Seasons: 1000}
}

// Earned is made-up money of so many plans.
func Earned(plans int) []decide.Earns {
	var out []decide.Earns
	for n := range plans {
		out = append(out, decide.Earns{
			Dryers: n, Net: Mean(10_000 + 500*float64(n)), PerGood: Mean(0.08), Parts: []decide.Part{{Of: money.Wood.String(), Year: Mean(-900), PerGood: Mean(-0.003)}},
			GrantShare: 0.5, ToFund: funding(n),
		})
		if n > 0 {
			out[n].More = &decide.More{Cost: Mean(2000 * float64(n)), MonthsMet: Mean(0.8 * float64(n)), Delivered: Mean(30_000 * float64(n)), PerMonth: Mean(2500), PerStalk: Mean(0.0667)}
		}
	}
	return out
}

// funding is that of n dryers at 6,000: half is grant, a tenth the own part.
func funding(n int) *decide.ToFund {
	k := money.Amount(n)
	f := decide.ToFund{New: n, Funding: money.Funding{Cost: money.Of(6000) * k, Grant: money.Of(3000) * k, Own: money.Of(600) * k, Loan: money.Of(2400) * k, Instalment: money.Of(79.71) * k, Interest: money.Of(469.7) * k}}
	if n > 0 {
		f.Months = 36
	}
	return &f
}

// Flow is a made-up flow of some figures; the others are nothing in all of 1,000 seasons.
func Flow(means map[sim.FigureID]float64, delivered float64) decide.Flow {
	f := decide.Flow{Delivered: Mean(delivered), Spoiled: Mean(0)}
	f.Spread.Delivered = Band(delivered)
	for id := range f.Figures {
		f.Figures[id], f.Spread.Figures[id] = Mean(means[sim.FigureID(id)]), Band(means[sim.FigureID(id)])
	}
	return f
}

// Plan is a made-up result whose two months are met in so many of 1,000 seasons.
func Plan(dryers int, perSite []int, june, july int) decide.PlanResult {
	month := func(m time.Month, met int) decide.MonthResult {
		return decide.MonthResult{
			Month: m, Name: m.String(), Asked: 60_000, Odds: trials.NewOdds(met, 1000),
			Available: trials.Band{P5: 41_000, Median: 72_500, P95: 98_000, Seasons: 1000}, Stock: trials.Fan{P5: 41_000, P25: 61_000, Median: 72_500, P75: 83_000, P95: 98_000, Seasons: 1000}, Shortfall: Mean(float64(1000-met) * 20),
		}
	}
	p := decide.PlanResult{
		Dryers: dryers, PerSite: perSite, Months: []decide.MonthResult{month(time.June, june), month(time.July, july)},
		AllMonths: trials.NewOdds(max(0, min(june, july)-10), 1000), Share: Mean(0.9),
		Flow: Flow(map[sim.FigureID]float64{
			sim.Cut: 200_000, sim.Second: 30_000, sim.Rejected: 4000, sim.ThrownOut: 9000, sim.Broken: 1500, sim.RefusedAtGate: 12_000,
			sim.Closing: 25_500, sim.NotCutRain: 8000, sim.NotCutYardFull: 1000, sim.NotCutTarget: 5000, sim.Charges: 210, sim.FiringH: 800,
			sim.IdleH: 1500, sim.WoodKg: 4200, sim.DryerFiring.Figure(): 800, sim.CutH: 3000,
		}, 118_000),
	}
	if july < june {
		p.Worst = 1
	}
	p.Odds = p.WorstMonth().Odds
	return p
}

// phase is a step of a nested order that costs so much of the odds.
func phase(at string, p decide.PlanResult, costs float64) decide.Phase {
	m := p.WorstMonth()
	return decide.Phase{AddedAt: at, Dryers: p.Dryers, PerSite: p.PerSite, WorstName: m.Name, Odds: m.Odds, Reached: p.Odds, AllMonths: p.AllMonths, NestingCosts: Mean(costs)}
}

// Answer is a made-up answer to "how many dryers?": three of four are enough.
func Answer() decide.Answer {
	return decide.Answer{
		Region: `Lake <b> & "Tavari"`, Sites: []string{"North Landing", "Heron Point", "Old Sluice"}, Target: 0.9, SearchSeasons: 120, Seasons: 1000, Seed: 1,
		Plans: []decide.PlanResult{
			Plan(0, []int{0, 0, 0}, 40, 3), Plan(1, []int{0, 1, 0}, 500, 210), Plan(2, []int{1, 1, 0}, 960, 790),
			Plan(3, []int{1, 1, 1}, 990, 934), Plan(4, []int{1, 2, 1}, 995, 968),
		},
		Needed: 3, Standing: []int{0, 0, 0},
		Phases: []decide.Phase{
			phase("Heron Point", Plan(1, []int{0, 1, 0}, 500, 210), 0), phase("North Landing", Plan(2, []int{1, 1, 0}, 960, 770), 0.02), phase("Old Sluice", Plan(3, []int{1, 1, 1}, 990, 934), 0),
		},
		Hub: decide.HubAir{Humidity: 0.65, Shed: &decide.Shed{Month: "July", AsIs: trials.NewOdds(934, 1000), Odds: trials.NewOdds(600, 1000), Gain: trials.Mean{Mean: -0.334, Low: -0.36, High: -0.31, Seasons: 1000}}},
		Swings: []decide.Swing{
			{Parameter: "mould growth", Low: 2, High: 4, LowBelow: 1.49, HighAbove: 1.76, Unit: "times pine", OddsLow: trials.NewOdds(330, 333), OddsHigh: trials.NewOdds(280, 333), Measure: "count spotted stalks"},
			{Parameter: "heated mass of a cabinet", Low: 3, High: 3, LowBelow: 240, HighAbove: 290, Unit: "kg", OddsLow: trials.NewOdds(312, 333), OddsHigh: trials.NewOdds(310, 333)},
		},
		Proof: decide.Proof{Level: 0.95, Enough: 3, NotEnough: 2, Seasons: 1000, Looks: 1, Planned: 2},
		Short: decide.Shortage{
			Seasons: 30, OfAll: 300, Months: 40, Alone: trials.NewOdds(35, 40), Two: trials.NewOdds(3, 40),
			Single: []decide.ShortOf{{Things: []decide.Relief{decide.MoreCutting}, Met: trials.NewOdds(30, 40)}, {Things: []decide.Relief{decide.NoBreakdowns}, Met: trials.NewOdds(20, 40)}},
			Pairs:  []decide.ShortOf{{Things: []decide.Relief{decide.MoreCutting, decide.NoBreakdowns}, Met: trials.NewOdds(3, 40)}},
		},
		Money: Earned(5),
		Worth: &decide.Worth{All: Mean(310), Chosen: 3, Each: []decide.WorthOfOne{{Parameter: "mould growth", Measure: "count spotted stalks", Value: Mean(200)}}},
	}
}

// Comparison is a made-up comparison of one dryer with two, bought for 6,000, that pays.
func Comparison() decide.Comparison {
	diff := func(of string, a, b float64) decide.Difference {
		return decide.Difference{Of: of, Unit: "stalks", A: Mean(a), B: Mean(b), More: Mean(b - a)}
	}
	price, atMost := Mean(0.1), Mean(8000)
	return decide.Comparison{
		Cutters: money.Hired.String(),
		Seasons: 1000, A: Plan(1, []int{1, 0, 0}, 900, 800), B: Plan(2, []int{1, 1, 0}, 990, 950), Totals: []decide.Difference{diff("good stalks delivered", 100_000, 112_000)},
		Months:   []decide.MonthDifference{{Name: "July", OddsA: trials.NewOdds(800, 1000), OddsB: trials.NewOdds(950, 1000), Gain: trials.Mean{Mean: 0.15, Low: 0.12, High: 0.18, Seasons: 1000}, Stalks: Mean(5000)}},
		Purchase: &money.Purchase{Futures: 200, Years: 8, Funding: money.Funding{Cost: money.Of(6000), Grant: money.Of(2000), Own: money.Of(4000)}, YearGain: Mean(1500), Never: trials.NewOdds(20, 200), PaysIn: trials.Band{P5: 12, Median: 30, P95: 80, Seasons: 180}, NPV: Mean(2500), Positive: trials.NewOdds(196, 200), NPVBand: trials.Band{P5: 300, Median: 2400, P95: 5100, Seasons: 200}, SoFar: soFar(), Verdict: money.PaysInNearlyAll, LevelGain: Mean(470), Price: &price, AtMost: &atMost, WhatIfs: []money.WhatIf{{Change: money.WoodTwice, Verdict: money.DoesNotPay, Positive: trials.NewOdds(80, 200), NPVBand: trials.Band{P5: -900, Median: 90, P95: 800, Seasons: 200}, NPV: Mean(1000), Never: trials.NewOdds(30, 200)}}},
	}
}

// soFar is made-up money of a purchase that takes 4,000 at first and brings 1,500 a year, more or less.
func soFar() (out []trials.Fan) {
	for y := range 9 {
		middle, wide := -4000+1500*float64(y), 300*float64(y)
		out = append(out, trials.Fan{P5: middle - 2*wide, P25: middle - wide, Median: middle, P75: middle + 0.8*wide, P95: middle + 1.7*wide, Seasons: 200})
	}
	return out
}

// Members are made-up members of a purchase that takes money and frees hours: it breaks even where
// an hour is worth 4.
func Members() *money.Livelihood {
	pair := func(a, b float64) money.Pair { return money.Pair{A: Mean(a), B: Mean(b), More: Mean(b - a)} }
	less := func(p money.Pair) money.Pair { // the ends of what is below nothing, in order
		p.More.Low, p.More.High = p.More.High, p.More.Low
		return p
	}
	even := trials.Mean{Mean: 4, Low: 3.5, High: 4.6, Seasons: 200}
	return &money.Livelihood{
		MembersA: 6, MembersB: 6, Costs: 600, Before: less(pair(24_000, 22_200)), Money: less(pair(24_000, 21_600)), Hours: less(pair(4800, 4200)),
		PerHour: pair(5, 5.14), EachMoney: less(pair(4000, 3600)), EachHours: less(pair(800, 700)), Worth: 1,
		AtWorths: []money.AtWorth{
			{Worth: 0, Gain: trials.Mean{Mean: -2400, Low: -2450, High: -2350, Seasons: 200}, Positive: trials.NewOdds(2, 200), Verdict: money.DoesNotPay},
			{Worth: 1, Gain: trials.Mean{Mean: -1800, Low: -1850, High: -1750, Seasons: 200}, Positive: trials.NewOdds(10, 200), Verdict: money.DoesNotPay},
		},
		Even: money.Even{Pays: money.AboveWorth, Worth: &even},
	}
}

// WithStates gives every dryer all states.
func WithStates(c decide.Comparison) decide.Comparison {
	for k := range c.Dryers {
		var hours []decide.Spent
		for _, s := range sim.DryerStates() {
			state := s.Figure()
			h := decide.Spent{On: state, Hours: Mean(0)}
			for _, given := range c.Dryers[k].Hours {
				if given.On == state {
					h = given
				}
			}
			hours = append(hours, h)
		}
		c.Dryers[k].Hours = hours
	}
	return c
}
