package report

import (
	"fmt"

	"drystalk/report/chart"
	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/charge"
	"drystalk/tongue"
)

// LoadWords is what a sentence says of one load of a dryer.
type LoadWords = words.Load

// Drawn is a figure over draws of what nobody has measured.
type Drawn = words.Drawn

// LoadCosts is one load of a comparison.
type LoadCosts = table.LoadCosts

// FullLoad is a full load of one moisture.
type FullLoad = table.FullLoad

// Load is one load of a dryer with its course.
type Load struct {
	LoadWords
	Place     string         // whose dryer it is
	Invented  bool           // the place is a demo's
	TargetWet float64        // at which slow stalks are dry, fraction wet basis
	WoodWet   float64        // moisture of the wood, wet basis
	AmbientC  float64        // outside, °C
	Humidity  float64        // outside, fraction
	Curve     []charge.Point // minute by minute
	Full      []FullLoad     // by moisture, from the wettest
	Costs     []LoadCosts    // this load beside others
	Currency  string
}

// ForLoad lays out one load of a dryer.
func ForLoad(l Load) (Report, error) {
	course, err := chart.Course(l.Curve, l.TargetWet, l.Hours, l.Wood)
	return Report{
		Title: tongue.Say("One load of a dryer"), Sentence: words.LoadSentence(l.LoadWords), Paragraph: words.LoadParagraph(l.LoadWords),
		Sections: []Section{{
			Title: tongue.Say("The load"), Charts: []Chart{course},
			Tables: []Table{table.Load(l.Curve), table.FullLoads(l.Full), table.Costs(l.Costs, l.Currency)},
		}},
	}, err
}

// CardFile is the name of the card for the dryer's door.
const CardFile = "dryer-card.html"

// DoorCard returns the card for the dryer's door: one page to be printed, with hours and wood of
// full loads by the moisture of the stalks, and the cautions of a fire.
func DoorCard(l Load, made []string) (File, error) {
	card := paper.Card{Place: l.Place, Measured: l.Measured, Cautions: FireCautions(), Made: made}
	if l.Invented {
		card.Invented = words.InventedWords()
	}
	card.Holds = tongue.Sayf("Chamber at %g °C. Wood at %.0f %% moisture. Air outside at %g °C and %.0f %% humidity. All moistures are on the wet basis.", l.SetC, 100*l.WoodWet, l.AmbientC, 100*l.Humidity)
	card.Dry = fmt.Sprintf("%.0f", 100*l.TargetWet)
	for _, f := range l.Full {
		line := paper.CardLine{
			Moisture: fmt.Sprintf("%.0f %%", 100*f.MoistureWet), Load: tongue.Sayf("%s stalks", words.Grouped(f.Stalks)), Weight: fmt.Sprintf("%.0f kg", f.LoadedKg),
			Hours: words.QuarterHours(f.DryingH), Wood: fmt.Sprintf("%.0f kg", f.WoodKg),
		}
		if f.HighH > 0 {
			line.HoursRange = tongue.Sayf("%s to %s", words.QuarterHours(f.LowH), words.QuarterHours(f.HighH))
			line.WoodRange = tongue.Sayf("%.0f to %.0f kg", f.LowWood, f.HighWood)
		}
		card.Lines = append(card.Lines, line)
	}
	html, err := card.HTML()
	return File{CardFile, html}, err
}
