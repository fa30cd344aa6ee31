package words

import "fmt"

// Load is what a sentence says of one load of a dryer.
type Load struct {
	Stalks                        int
	MoistureWet, SetC             float64 // fraction wet basis; °C
	DryingH, FastestH, SlowestH   float64 // at the drying rate as stated, and over its documented range
	CoolingH, WoodKg              float64
	EndMoistureWet, OverdriedPart float64 // fractions
	FreshPerGood, PredriedPerGood float64 // cost of a good stalk in full loads; 0 without prices
	Currency                      string
}

// LoadSentence says how long a load takes and what wood it burns.
func LoadSentence(l Load) string {
	return fmt.Sprintf("%s stalks at %.0f %% moisture (wet basis) take %.1f h at %g °C (%.1f to %.1f h as stalks dry fast or slowly), %.1f h to cool, and about %.0f kg of wood.",
		Grouped(l.Stalks), 100*l.MoistureWet, l.DryingH, l.SetC, l.FastestH, l.SlowestH, l.CoolingH, l.WoodKg)
}

// LoadParagraph says how the stalks come out, and what a good one costs.
func LoadParagraph(l Load) []string {
	out := []string{fmt.Sprintf("The stalks come out at %.0f %% moisture; %.0f %% of them are below 8 %% and brittle, so that some break.", 100*l.EndMoistureWet, 100*l.OverdriedPart)}
	if l.FreshPerGood > 0 && l.PredriedPerGood > 0 {
		out = append(out, fmt.Sprintf("From the rack into the store a good stalk costs %s if it comes fresh and %s if it comes pre-dried: %.1f times as much.",
			Price(l.FreshPerGood, l.Currency), Price(l.PredriedPerGood, l.Currency), l.FreshPerGood/l.PredriedPerGood))
	}
	return append(out, "Time three loads of your own before you count on this.")
}
