package report

import (
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// ForSeason lays out one season in sentences: why months were missed, and the story of each. Its
// tables are drawn from the ledger.
func ForSeason(region string, l sim.RegionLedger, why []decide.MonthWhy, story []string, hub decide.HubAir) Report {
	return Report{
		Title: tongue.Sayf("One season: %s", region), Sentence: words.SeasonSentence(region, l), Paragraph: words.SeasonParagraph(why),
		Last: []string{words.HubInShort(hub)}, Notes: words.SeasonNotes(why, story, hub),
	}
}
