package chart

import (
	"fmt"
	"maps"
	"time"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/charge"
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// longName is a name of a site that is longer than most.
func longName(k int) string {
	return "Upper Backwater Landing of Village Number " + string(rune('A'+k))
}

// extremes are charts of answers at the edges: many sites with long names, nothing that reaches the
// target, nothing bought, nothing promised, a single month, no dryer.
var extremes = map[string]func() (Chart, error){
	"14 sites with a map":    func() (Chart, error) { return Places(manyPlaces(true)) },
	"14 sites without a map": func() (Chart, error) { return Places(manyPlaces(false)) },
	"sites without a dryer":  func() (Chart, error) { return Places([]Place{{Name: longName(0)}, {Name: longName(1)}}) },
	"one number of dryers":   func() (Chart, error) { return Odds(numbersOf(1)) },
	"many numbers, none of which does": func() (Chart, error) {
		return Odds(numbersOf(40))
	},
	"one month of one plan": func() (Chart, error) {
		p := sample.Plan(0, nil, 0, 0)
		p.Months = p.Months[:1]
		return HubStock(StockOf{"without a dryer, but with what was changed at every site", p})
	},
	"three plans with long changes": func() (Chart, error) {
		with := "with 2 dryers at " + longName(0)
		return HubStock(StockOf{"today", sample.Answer().Plans[0]}, StockOf{with, sample.Answer().Plans[2]}, StockOf{with, sample.Answer().Plans[3]})
	},
	"twelve months with a long change": func() (Chart, error) { return Differs(longChange()) },
	"nothing to promise": func() (Chart, error) {
		return Promise(decide.Promise{}, contract())
	},
	"no better way": func() (Chart, error) {
		a := sample.Ways()
		a.Together, a.Alone = nil, nil
		return Ways(a)
	},
	"a rival of a promise": func() (Chart, error) {
		r := sample.Rival()
		r.Changes = append(r.Changes, ways.Change{Lever: ways.StockAhead, From: 1, To: 4, Factor: true}, ways.Change{Lever: ways.FiredFirst, Before: "driest", Choice: "most_at_risk"})
		return Beside(r, "", Aim{Target: 0.9})
	},
	"nothing bought": func() (Chart, error) {
		a := bought()
		a.Steps = nil
		return Spending(a, 0.9, "coins")
	},
	"nothing bought for nothing": func() (Chart, error) {
		return Spending(spend.Answer{Start: spend.Bought{Odds: trials.NewOdds(0, 40)}}, 0.9, "coins")
	},
	"a list of very many steps": func() (Chart, error) { return Spending(manySteps(), 0.9, "coins") },
	"many budgets, of which none buys anything": func() (Chart, error) {
		var each []spend.Answer
		for k := range 12 {
			each = append(each, spend.Answer{Budget: money.Of(5000 * float64(k+1)), Start: spend.Bought{Odds: trials.NewOdds(0, 40)}})
		}
		return Budgets(each, 0.9, "coins of the Federation")
	},
	"a load of stated parameters": func() (Chart, error) {
		c := charge.Default()
		return Course(c.Curve(charge.Ambient{TempC: 28, VapourKPa: 3}, charge.Load{Lots: []charge.Lot{{DryKg: 5.85, Moisture: 0.4}}}, 1.0/60), 0.14, words.Drawn{}, words.Drawn{})
	},
	"nothing borrowed": func() (Chart, error) { return SoFar(*sample.Comparison().Purchase, "coins of the Federation") },
	"all delivered": func() (Chart, error) {
		p := sample.Plan(1, nil, 1000, 1000)
		p.Flow = sample.Flow(map[sim.FigureID]float64{sim.Cut: 1_000_000}, 1_000_000)
		return Losses(p)
	},
	"a season without a dryer": func() (Chart, error) {
		return Use(longName(0), []sim.SiteLedger{{Days: idleDays()}}, Days{0, 244, seasonDay})
	},
	"a season with nothing in it": func() (Chart, error) {
		return Glance(longName(0)+" and "+longName(1)+", season 417", []sim.SiteLedger{{Days: idleDays()}}, Days{0, 244, seasonDay}, nil)
	},
	"a season of stock": func() (Chart, error) { return Stock(longName(0), idleDays(), Days{0, 244, seasonDay}) },
	"one line of a log": func() (Chart, error) {
		return Residuals(Fitted("racks-residuals", "Weighings beside the fit", "moisture, weighed less expected (points)"), []Off{{2, 0, 0}})
	},
	"many lines of a log": func() (Chart, error) {
		var lines []Off
		for k := range 120 {
			lines = append(lines, Off{1000 + 3*k, float64(k%7) - 3, 2})
		}
		return Residuals(Fitted("racks-residuals", "Weighings beside the fit", "moisture, weighed less expected (points)"), lines)
	},
	"points of many factors": func() (Chart, error) {
		var points []words.StudyPoint
		for k := range 60 {
			points = append(points, words.StudyPoint{Name: fmt.Sprintf("climate of the hill lake, dryers %d, racks 150 m2, loading 6 kg per m2, stock ahead %d, shifts until 22 h, and more", k%4, k), All: trials.NewOdds(k, 60)})
		}
		return StudyOdds(points)
	},
	"inputs that move nothing": func() (Chart, error) {
		return StudyEffects([]words.StudyEffect{{Point: "as written", Outcome: "all_months_met", Input: "sites." + longName(0) + ".stalks_per_person_h", What: "mean absolute effect", Unit: "fraction of seasons"}})
	},
}

// allPictures are those of usual answers and of answers at the edges.
func allPictures() map[string]func() (Chart, error) {
	all := maps.Clone(pictures)
	maps.Copy(all, extremes)
	return all
}

// manyPlaces are 14 sites with long names, two in one place.
func manyPlaces(mapped bool) (out []Place) {
	for k := range 14 {
		p := Place{Name: longName(k), Dryers: k % 4, Stand: k % 2, RackM2: 25 * float64(k), Share: 1.0 / 14}
		if mapped {
			p.At = &Point{17 + 0.1*float64(k%6), 80 + 0.03*float64(k%11)}
		}
		out = append(out, p)
	}
	return out
}

// numbersOf is an answer in which no number of dryers does.
func numbersOf(n int) decide.Answer {
	a := sample.Answer()
	a.Plans, a.Needed = nil, -1
	for k := range n {
		a.Plans = append(a.Plans, sample.Plan(3+k, []int{k, 2, 1}, 12, 0))
	}
	return a
}

// manySteps is a list of 160 steps.
func manySteps() spend.Answer {
	a := bought()
	a.Steps = nil
	for k := range 160 {
		a.Steps = append(a.Steps, spend.Bought{Spent: money.Of(50 * float64(k+1)), Odds: trials.NewOdds(k, 200)})
	}
	return a
}

// longChange is a comparison of twelve months with a change that takes many words to say.
func longChange() words.Compared {
	c := words.Compared{Result: sample.Comparison(), Changes: []words.Change{{Key: longName(0) + ".dryers", A: "1", B: "2"}, {Key: longName(1) + ".open_rack_m2", A: "10", B: "200"}}}
	c.Result.Months = nil
	for m := time.January; m <= time.December; m++ {
		c.Result.Months = append(c.Result.Months, decide.MonthDifference{Name: m.String(), OddsA: trials.NewOdds(0, 40), OddsB: trials.NewOdds(40, 40)})
	}
	return c
}

// idleDays are days of a whole season in which nothing happens.
func idleDays() []sim.SiteDay {
	out := make([]sim.SiteDay, 245)
	for i := range out {
		out[i].Day = i
	}
	return out
}

// seasonDay is a day of a season from 1 March on.
func seasonDay(day int) (time.Month, int) {
	at := time.Date(2026, 3, 1+day, 0, 0, 0, 0, time.UTC)
	return at.Month(), at.Day()
}
