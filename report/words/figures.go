package words

import (
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// figureWord is how a figure of the registry is called.
type figureWord struct {
	name   tongue.Text // everywhere, unless one of those below is given
	row    tongue.Text // as a row of a table about one plan
	head   tongue.Text // as the heading of a narrow column
	ledger tongue.Text // as the heading of a column of the ledger

	// Of stalks that were not cut, the reason:
	month, day, because tongue.Text // in a month, in a day, in a sentence
}

// figureWords are the words of all figures.
var figureWords = map[sim.FigureID]figureWord{
	sim.Opening:       {name: "in stock on the first day", ledger: "on racks, in heap, dryers and store at the start of the month"},
	sim.Cut:           {name: "cut", ledger: "cut and brought to the yard"},
	sim.MovedIn:       {name: "hauled in", ledger: "hauled here from other sites"},
	sim.MovedOut:      {name: "hauled away", ledger: "hauled to another site"},
	sim.ToHub:         {name: "sent to the hub", ledger: "full grade, collected for the hub"},
	sim.Second:        {name: "second grade", row: "sold as second grade", head: "second", ledger: "second grade, sold apart"},
	sim.Rejected:      {name: "rejected for mould", head: "rejected", ledger: "rejected for mould when graded"},
	sim.ThrownOut:     {name: "rotted and thrown out", head: "thrown out", ledger: "rotten batches cleared from the yard to make room"},
	sim.Broken:        {name: "broken", row: "broken, dried too far", ledger: "broken because dried too far in a charge"},
	sim.RefusedAtGate: {name: "refused at the gate", ledger: "of those collected, not accepted at the gate of the hub"},
	sim.Closing:       {name: "left over at the end", ledger: "on racks, in heap, dryers and store at the end of the month"},

	sim.NotCutRain:     {name: "not cut: rain", month: "rain", because: "the rain", ledger: "not cut because of rain"},
	sim.NotCutYardFull: {name: "not cut: yard full", month: "yard full", because: "a full yard", ledger: "not cut because the yard was full"},
	sim.NotCutTooWet:   {name: "not cut: racks and dryers had all they could dry", month: "more could not dry", because: "more wet stalks than could dry", ledger: "not cut because more lay wet than racks and dryers bring home"},
	sim.NotCutPeople:   {name: "not cut: people at other work", month: "people", day: "people at other work", because: "other work", ledger: "not cut because people were at other work"},
	sim.NotCutStand:    {name: "not cut: little plant within reach", month: "stand", day: "little plant within reach", because: "thin stands", ledger: "not cut because little plant stood within reach"},
	sim.NotCutClosed:   {name: "not cut: stand closed", month: "stand closed", because: "a closed stand", ledger: "not cut because the stand was closed: sprayed, or cleared by a campaign"},
	sim.NotCutTarget:   {name: "not cut: the hub had enough", month: "hub had enough", because: "a hub that had enough", ledger: "not cut because the hub had enough: what the month asks and the stock wanted ahead"},
	sim.Redried:        {name: "too damp for the gate, dried again", ledger: "too wet for the collection and put back on a rack"},
	sim.Browned:        {name: "of the second grade: browned in the dryer", ledger: "of the second grade, browned in a chamber too hot"},

	sim.Charges:  {name: "charges", ledger: "dryer charges finished"},
	sim.FiringH:  {name: "hours of fire", ledger: "hours a dryer was heating or drying"},
	sim.IdleH:    {name: "hours without a charge", ledger: "shift hours a dryer stood without a charge"},
	sim.WoodKg:   {name: "wood", row: "wood, kg", ledger: "wood burned"},
	sim.BrokenH:  {name: "dryer-hours by day and night, out or under repair", ledger: "hours dryers were out or under repair"},
	sim.NoWood:   {name: "looks that found no wood", ledger: "times a charge was wanted and there was no wood for it"},
	sim.RoadShut: {name: "days on which a collection found the road shut", ledger: "days on which a collection could not come"},
	sim.Skipped:  {name: "collections that did not come for so few stalks", ledger: "collections that did not come for so few stalks"},
	sim.Trips:    {name: "collections that came", ledger: "collections that came"},
	sim.WorkDays: {name: "days on which cutters cut", ledger: "days on which cutters cut"},

	sim.CutH:        {name: "person-hours of cutting", row: "cutting", ledger: "hours spent cutting"},
	sim.OtherH:      {name: "person-hours of other work", ledger: "hours of tending, loading, grading, sheets and collections"},
	sim.TendingH:    {name: "tending fires", ledger: "tending fires"},
	sim.NightH:      {name: "of that at night", ledger: "of tending, between 22 and 6 h"},
	sim.HandlingH:   {name: "loading and unloading dryers", ledger: "loading and unloading dryers"},
	sim.GradingH:    {name: "grading and bundling", ledger: "grading and bundling"},
	sim.SheetsH:     {name: "pulling and clearing sheets", ledger: "pulling and clearing sheets"},
	sim.CollectionH: {name: "collections", ledger: "collections"},
	sim.HaulingH:    {name: "hauling", ledger: "hauling to another site"},
	sim.SpreadingH:  {name: "spreading on racks", ledger: "spreading on racks"},

	sim.DryerFiring.Figure():    {name: "firing", ledger: "heating or drying"},
	sim.DryerHandling.Figure():  {name: "loading and unloading", ledger: "being loaded or unloaded"},
	sim.DryerCooling.Figure():   {name: "cooling", ledger: "cooling before unloading"},
	sim.DryerWaiting.Figure():   {name: "cold, loaded, waiting for the morning", ledger: "cold, with a charge that waits for the morning"},
	sim.DryerNoStalks.Figure():  {name: "no stalks to load", ledger: "nothing wet enough to load, or too little for a charge"},
	sim.DryerNotWanted.Figure(): {name: "no need: the sun may do it", because: "no need, the sun could do it", ledger: "wet stalks, but none at risk and racks free: the sun may do it"},
	sim.DryerNoTime.Figure():    {name: "too late in the shift for a charge", ledger: "no charge would be dry before the end of the shift"},
	sim.DryerNoPeople.Figure():  {name: "nobody to tend the fire", ledger: "nobody to tend another fire"},
	sim.DryerNoWood.Figure():    {name: "no wood", ledger: "no wood for the charge at hand"},
	sim.DryerBroken.Figure():    {name: "broken or out", ledger: "out or under repair"},
	sim.DryerNotReady.Figure():  {name: "not yet put up", ledger: "not yet put up"},
}

// lackWords are the words of what was short on a day.
var lackWords = map[sim.Lack]tongue.Text{
	sim.LacksRoad: "road", sim.LacksDryDay: "a day without heavy rain", sim.LacksOpenStand: "a stand that may be cut", sim.LacksPlant: "plant",
	sim.LacksPeople: "people", sim.LacksDryer: "a working dryer", sim.LacksWood: "wood", sim.LacksTenders: "people for the fire",
	sim.LacksShiftHours: "hours of the shift", sim.LacksRoom: "racks and dryers",
}

// FigureName returns what a figure is called.
func FigureName(id sim.FigureID) string { return figureWords[id].name.String() }

// FigureRow returns what a figure is called as a row of a table about one plan.
func FigureRow(id sim.FigureID) string {
	w := figureWords[id]
	return first(w.row, w.name)
}

// FigureColumn returns the heading of a figure as a column of the ledger.
func FigureColumn(id sim.FigureID) string {
	w := figureWords[id]
	return first(w.ledger, w.name)
}

// FigureHead returns the heading of a figure as a narrow column.
func FigureHead(id sim.FigureID) string {
	w := figureWords[id]
	return first(w.head, w.name)
}

// NotCutInDay returns why stalks were not cut on a day; "" for
// nothing.
func NotCutInDay(id sim.FigureID) string {
	w := figureWords[id]
	return first(w.day, w.month, w.name)
}

// Short returns what was short on a day; "" for nothing.
func Short(l sim.Lack) string { return lackWords[l].String() }

// because puts a reason into a sentence.
func because(id sim.FigureID) string {
	w := figureWords[id]
	return first(w.because, w.month, w.name)
}

// first returns the first word that is given.
func first(words ...tongue.Text) string {
	for _, w := range words {
		if w != "" {
			return w.String()
		}
	}
	return ""
}

// CompareLine returns what a line of a comparison is called: a figure by its key, what is
// delivered, or a part of the money.
func CompareLine(of string) string {
	var id sim.FigureID
	switch {
	case of == "delivered":
		return tongue.Say("good stalks delivered")
	case of == "spoiled_at_hub":
		return tongue.Say("spoiled by mould at the hub")
	case id.UnmarshalText([]byte(of)) == nil:
		return FigureName(id)
	}
	return Part(of)
}

// Losses returns what became of stalks that were not delivered: every loss of the registry.
func Losses(f decide.Flow) (out []Named) {
	for _, id := range append(sim.OfKinds(sim.Lost, sim.LostLater), sim.Closing) {
		if id == sim.Closing && f.Spoiled.Mean > 0 {
			out = append(out, Named{CompareLine("spoiled_at_hub"), f.Spoiled, f.Spread.Spoiled})
		}
		out = append(out, Named{FigureRow(id), f.Of(id), f.Spread.Figures[id]})
	}
	return out
}
