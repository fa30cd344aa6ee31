package table

import (
	"slices"

	"drystalk/report/words"
	"drystalk/tongue"
)

// LoadCosts is one load of a comparison: what it takes, and what that costs where there are
// prices.
type LoadCosts struct {
	Name                                     string
	Stalks                                   int
	GoodStalks                               float64
	DryingH                                  float64
	WoodKg                                   float64
	TendingH, HandlingH, GradingH            float64 // of people
	Priced                                   bool
	Wood, Tending, Handling, Grading, Upkeep float64 // in units of the currency
	Total, PerGood                           float64
	WoodRains, PerGoodRains                  float64 // with wood at its price in months of rain
}

// Costs lists what loads take and cost, part by part, side by side.
func Costs(loads []LoadCosts, currency string) Table {
	t := Table{Title: tongue.Say("What a load takes and costs, from the rack into the store"), Head: []string{""}, Apart: []string{tongue.Say("part")}, Left: 1}
	for _, l := range loads {
		t.Head, t.Apart = append(t.Head, l.Name), append(t.Apart, l.Name)
	}
	row := func(name, format string, form Form, unit string, of func(LoadCosts) float64) {
		cells := texts(name)
		for _, l := range loads {
			cells = append(cells, one(tongue.Figures(format, of(l)), form, unit, of(l)))
		}
		t.Rows = append(t.Rows, cells)
	}
	counted := func(name string, of func(LoadCosts) float64) {
		cells := texts(name)
		for _, l := range loads {
			cells = append(cells, whole(of(l), ""))
		}
		t.Rows = append(t.Rows, cells)
	}
	counted(tongue.Say("stalks"), func(l LoadCosts) float64 { return float64(l.Stalks) })
	counted(tongue.Say("of them good: not broken, not browned"), func(l LoadCosts) float64 { return l.GoodStalks })
	row(tongue.Say("hours of fire"), "%.1f", Real, "h", func(l LoadCosts) float64 { return l.DryingH })
	row(tongue.Say("wood, kg"), "%.1f", Real, "kg", func(l LoadCosts) float64 { return l.WoodKg })
	row(tongue.Say("person-hours: tending the fire"), "%.1f", Real, "h", func(l LoadCosts) float64 { return l.TendingH })
	row(tongue.Say("person-hours: loading and unloading"), "%.1f", Real, "h", func(l LoadCosts) float64 { return l.HandlingH })
	row(tongue.Say("person-hours: grading and bundling"), "%.1f", Real, "h", func(l LoadCosts) float64 { return l.GradingH })
	if len(loads) == 0 || !loads[0].Priced {
		return t
	}
	cost := func(name string, of func(LoadCosts) float64) { row(name+", "+currency, "%.2f", Real, currency, of) }
	rains := slices.ContainsFunc(loads, func(l LoadCosts) bool { return l.WoodRains != l.Wood })
	wood := tongue.Say("wood")
	if rains {
		wood = tongue.Say("wood at its price of dry months")
	}
	cost(wood, func(l LoadCosts) float64 { return l.Wood })
	cost(tongue.Say("tending"), func(l LoadCosts) float64 { return l.Tending })
	cost(tongue.Say("loading and unloading"), func(l LoadCosts) float64 { return l.Handling })
	cost(tongue.Say("grading and bundling"), func(l LoadCosts) float64 { return l.Grading })
	cost(tongue.Say("upkeep of the dryer"), func(l LoadCosts) float64 { return l.Upkeep })
	cost(tongue.Say("in all"), func(l LoadCosts) float64 { return l.Total })
	perGood := func(name string, of func(LoadCosts) float64) {
		cells := texts(name)
		for _, l := range loads {
			cells = append(cells, one(words.Price(of(l), ""), Price, currency, of(l)))
		}
		t.Rows = append(t.Rows, cells)
	}
	perGood(tongue.Sayf("a good stalk of that load, %s", currency), func(l LoadCosts) float64 { return l.PerGood })
	if rains {
		cost(tongue.Say("wood at its price in months of rain"), func(l LoadCosts) float64 { return l.WoodRains })
		perGood(tongue.Sayf("a good stalk of that load then, %s", currency), func(l LoadCosts) float64 { return l.PerGoodRains })
	}
	return t
}
