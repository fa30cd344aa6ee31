package words

import (
	"fmt"
	"math"

	"drystalk/tongue"
)

// Load is what a sentence says of one load of a dryer.
type Load struct {
	Stalks                        int
	MoistureWet, SetC             float64 // fraction wet basis; °C
	DryingH                       float64 // at the parameters as written
	Hours, Wood                   Drawn   // over what nobody has measured: h, kg
	CoolingH, WoodKg              float64
	EndMoistureWet, OverdriedPart float64 // fractions
	FreshPerGood, PredriedPerGood float64 // cost of a good stalk in full loads; 0 without prices
	FreshInRains, PredriedInRains float64 // the same with wood at its price in the rains
	FreshWet, PredriedWet         float64 // moistures of those, fractions wet basis
	Part                          bool    // it is no full load
	Currency                      string
	Measured                      bool // a log of the group narrows some of the ranges
}

// Drawn is a figure over draws of what nobody has measured: 90 of 100 lie from Low to High.
type Drawn struct {
	Low, High    float64
	Draws, Never int // draws, and those of them in which there is no such figure; 0 draws where knowledge is fixed
}

// LoadSentence says how long a load takes and what wood it burns.
func LoadSentence(l Load) string {
	spread, wood := "", ""
	if l.Hours.Draws > 0 {
		spread = tongue.Sayf(" (%.1f to %.1f h in 90 of 100 trials)", l.Hours.Low, l.Hours.High)
		wood = tongue.Sayf(" (%.0f to %.0f kg)", l.Wood.Low, l.Wood.High)
	}
	return tongue.Sayf("%s stalks at %.0f %% moisture (wet basis) take %.1f h at %g °C%s, %.1f h to cool, and about %.0f kg of wood%s.",
		Grouped(l.Stalks), 100*l.MoistureWet, l.DryingH, l.SetC, spread, l.CoolingH, l.WoodKg, wood)
}

// LoadParagraph says how the stalks come out, what the spread is of, and what a good stalk costs.
func LoadParagraph(l Load) []string {
	var out []string
	if l.Hours.Never > 0 {
		out = append(out, tongue.Sayf("In %s of %s trials the chamber never dries them.", Grouped(l.Hours.Never), Grouped(l.Hours.Draws)))
	}
	switch {
	case l.Hours.Draws == 0:
	case l.Measured:
		out = append(out, tongue.Sayf("The spread is that of %s trials, each with another stalk, dryer and fire, as far as your own log leaves them open.", Grouped(l.Hours.Draws)))
	default:
		out = append(out, tongue.Sayf("The spread is that of %s trials, each with another stalk, dryer and fire, because nobody has measured yours.", Grouped(l.Hours.Draws)))
	}
	out = append(out, outWords(l))
	if !l.Measured { // before the prices: where room is short they are in the table, and this is not
		out = append(out, tongue.Say("Time three loads of your own before you count on this; drystalk fit charges reads such a log."))
	}
	switch {
	case l.FreshPerGood <= 0 || l.PredriedPerGood <= 0:
	case l.rainsDiffer():
		out = append(out, tongue.Sayf("In a full load, rack to store, a good stalk costs %s fresh (%.0f %%) and %s pre-dried (%.0f %%); at the rains' wood price %s and %s.",
			Price(l.FreshPerGood, l.Currency), 100*l.FreshWet, Price(l.PredriedPerGood, ""), 100*l.PredriedWet, Price(l.FreshInRains, ""), Price(l.PredriedInRains, "")))
	default:
		out = append(out, tongue.Sayf("In a full load a good stalk costs %s fresh (%.0f %%) and %s pre-dried (%.0f %%), rack to store: %.1f times as much.",
			Price(l.FreshPerGood, l.Currency), 100*l.FreshWet, Price(l.PredriedPerGood, l.Currency), 100*l.PredriedWet, l.FreshPerGood/l.PredriedPerGood))
	}
	if l.Part {
		out = append(out, tongue.Say("This load is not full: its own cost stands in the table."))
	}
	return out
}

// rainsDiffer tells whether wood has another price in the rains, which a good stalk shows.
func (l Load) rainsDiffer() bool {
	return l.FreshInRains > 0 && Price(l.FreshInRains, "") != Price(l.FreshPerGood, "") || l.PredriedInRains > 0 && Price(l.PredriedInRains, "") != Price(l.PredriedPerGood, "")
}

// outWords says how the stalks of a load come out.
func outWords(l Load) string {
	text := tongue.Sayf("The stalks come out at %.0f %% moisture", 100*l.EndMoistureWet)
	if Round(100*l.OverdriedPart) == 0 {
		return text + "."
	}
	return text + tongue.Sayf("; %.0f %% of them are below 8 %% and brittle, so that some break.", 100*l.OverdriedPart)
}

// QuarterHours writes hours as a clock tells them, to the next quarter of an hour: "7 h 30".
func QuarterHours(h float64) string {
	quarters := int(math.Round(4 * h))
	return fmt.Sprintf("%d h %02d", quarters/4, 15*(quarters%4))
}
