package words

import (
	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/tongue"
)

// partWords are the words of the parts of money, by key.
var partWords = map[string]tongue.Text{
	money.Sales.String():       "good stalks sold",
	money.SecondGrade.String(): "second grade sold",
	money.Surplus.String():     "good stalks left over",
	money.Cutting.String():     "pay for cutting",
	money.Wages.String():       "wages for other work",
	money.Night.String():       "extra pay at night",
	money.Crew.String():        "extra crew",
	money.Wood.String():        "wood",
	money.Collections.String(): "collections and transport",
	money.Bags.String():        "bags and bundling",
	money.Upkeep.String():      "upkeep of dryers",
	money.Rent.String():        "rent and dues",
	money.Penalty.String():     "penalties",
	decide.DryersByTheYear:     "dryers, by the year",
	decide.NetBeforePurchase:   "net before what is bought",
	money.FreedHours:           "hours of members freed, at their worth",
}

// Part returns what a part of money is called.
func Part(key string) string { return partWords[key].String() }

// changeWords are the words of the what-ifs of a purchase.
var changeWords = map[money.Change]tongue.Text{
	money.PaysLess: "the buyer pays a fifth less", money.WoodTwice: "wood costs twice as much", money.BuyerLeaves: "the buyer leaves after two years",
	money.SecondGoes: "nobody buys second grade",
}

// WhatIf returns what a changed assumption is called.
func WhatIf(c money.Change) string { return changeWords[c].String() }

// itemWords say how much of a thing is bought.
var itemWords = map[money.Thing]func(size float64) string{
	money.Dryer:       counted("1 dryer", "%.0f dryers"),
	money.OpenRack:    metres("open rack"),
	money.ClearRoof:   metres("clear roof"),
	money.SolidRoof:   metres("solid roof"),
	money.Sheets:      func(float64) string { return tongue.Say("sheets") },
	money.SealedBags:  func(float64) string { return tongue.Say("sealed bags") },
	money.StoreRoom:   func(n float64) string { return tongue.Sayf("room for %.0f stalks", n) },
	money.Cutter:      counted("1 cutter", "%.0f cutters"),
	money.LongerShift: func(h float64) string { return tongue.Sayf("a shift %g h longer", h) },
	money.SiteStock:   func(n float64) string { return tongue.Sayf("%s in the store", counted("1 stalk", "%.0f stalks")(n)) },
	money.HubStock: func(n float64) string {
		return tongue.Sayf("%s in stock at the hub", counted("1 stalk", "%.0f stalks")(n))
	},
	money.MovedDryer: func(float64) string { return tongue.Say("a dryer moved") },
}

func counted(one, many string) func(float64) string {
	return func(n float64) string { return tongue.Several(Round(n), one, many, n) }
}

func metres(of tongue.Text) func(float64) string {
	return func(m2 float64) string { return tongue.Sayf("%.0f m² of %s", m2, of) }
}

// Item says what is bought, and where.
func Item(i money.Item) string {
	s := itemWords[i.Of](i.Size)
	switch {
	case i.To != "":
		return tongue.Sayf("%s from %s to %s", s, i.Site, i.To)
	case i.Site != "":
		return tongue.Sayf("%s at %s", s, i.Site)
	}
	return s
}

// Items joins the words of what is bought.
func Items(list []money.Item) string {
	var parts []string
	for _, i := range list {
		parts = append(parts, Item(i))
	}
	return And(parts)
}
