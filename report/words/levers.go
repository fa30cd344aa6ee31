package words

import (
	"drystalk/sim/spend"
	"drystalk/tongue"
)

// endingWords say why a list ends.
var endingWords = map[spend.Ending]tongue.Text{
	spend.AllMet:       "no month is missed any more in the seasons that choose it",
	spend.TargetMet:    "the target is reached",
	spend.NothingHelps: "nothing that the rest of the budget buys helps by more than chance",
	spend.Interrupted:  "the search was stopped",
}

// leverWord is what a lever is called.
type leverWord struct {
	name tongue.Text        // where it is not tried: "open racks"
	much func(n int) string // so much of it: "50 m² of open rack"
}

func muchOf(format string) func(int) string {
	return func(n int) string { return tongue.Sayf(format, n) }
}

func stalksOf(format string) func(int) string {
	return func(n int) string { return tongue.Sayf(format, Grouped(n)) }
}

func always(words tongue.Text) func(int) string {
	return func(int) string { return words.String() }
}

// leverWords are the words of the levers.
var leverWords = map[spend.Lever]leverWord{
	spend.Dryers:       {"dryers", Dryers},
	spend.OpenRacks:    {"open racks", muchOf("%d m² of open rack")},
	spend.ClearRoofs:   {"clear roofs", muchOf("%d m² of clear roof")},
	spend.Sheets:       {"sheets", always("sheets over the open racks")},
	spend.SealedBags:   {"sealed bags", always("sealed bags in the store")},
	spend.Cutters:      {"cutters", muchOf("%d cutters")},
	spend.LongerShifts: {"longer shifts", muchOf("a shift %d h longer")},
	spend.StoreRoom:    {"store room", stalksOf("room for %s stalks")},
	spend.StockAhead:   {"stock ahead", stalksOf("%s stalks in stock at the start")},
}

// notTried lists what the search leaves out.
func notTried(s spend.Answer) []string {
	var out []string
	for _, key := range s.NoPrice {
		out = append(out, tongue.Sayf("%s: no price is stated", leverWords[key].name.String()))
	}
	step := func(key spend.Lever) int { return Round(spend.StepOf(key).Size) }
	return append(out,
		tongue.Sayf("other steps than %d m² of rack, %d m² of roof, %d cutters, %d h of shift and %s stalks of stock, more than %d of them at a site, and more than twice the cutters",
			step(spend.OpenRacks), step(spend.ClearRoofs), step(spend.Cutters), step(spend.LongerShifts), Grouped(step(spend.StockAhead)), spend.MostSteps),
		tongue.Say("bundles at several sites at once"), tongue.Say("hauling, moving dryers, other loading rules and temperatures, other collections"))
}

// OfLever writes so much of a thing: "2 dryers", "50 m² of open rack".
func OfLever(a spend.Quantity) string { return leverWords[a.Of].much(Round(a.Size)) }
