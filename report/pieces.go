package report

import (
	"drystalk/report/book"
	"drystalk/report/chart"
	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/weather"
)

// What reports are made of, for those who show a piece by itself.
type (
	// Section is a heading with charts and tables under it.
	Section = paper.Section
	// Table is a heading, column heads and rows of text.
	Table = table.Table
	// Chart is a drawing with a sentence that says what it shows.
	Chart = chart.Chart
	// Compared is what is said of two plans in the same seasons.
	Compared = words.Compared
	// Change is a key in which two plans differ.
	Change = words.Change
)

// Number writes a number with thousands apart and no more decimals than it has.
func Number(x float64) string { return words.Number(x) }

// SeasonSentence says how one season went.
func SeasonSentence(region string, l sim.RegionLedger) string { return words.SeasonSentence(region, l) }

// WhySentence says why a month was missed.
func WhySentence(w decide.MonthWhy) string { return words.WhySentence(w) }

// Story tells a season month by month in plain sentences. The ledger must hold its days.
func Story(l sim.RegionLedger, spans []sim.Span) []string { return words.Story(l, spans) }

// PlaceWords says what of the place is guessed that the odds hang on: the humidity of some stations.
func PlaceWords(guessed []string) []string { return words.PlaceWords(guessed) }

// YearsSentence says how the plan fares in real years, and whether the generator agrees.
func YearsSentence(y decide.YearsResult) string { return words.YearsSentence(y) }

// SideBySide returns, by contract month, what is asked, the odds of both plans and the good
// stalks more, as text.
func SideBySide(c decide.Comparison) [][5]string { return table.SideBySide(c) }

// SiteTable lists the months of one site's season.
func SiteTable(l sim.SiteLedger, hub []sim.HubMonth) Table { return table.Site(l, hub) }

// DaysTable lists the days of one site from one day of the season to another.
func DaysTable(site string, days []sim.SiteDay, from, to int, date func(d int) string) Table {
	return table.Days(site, days, from, to, date)
}

// HubTable lists the months at the hub.
func HubTable(hub []sim.HubMonth) Table { return table.Hub(hub) }

// MonthsChart draws the good stalks of each contract month against the contract.
func MonthsChart(r decide.PlanResult) (Chart, error) { return chart.Months(r) }

// StockChart draws where the stalks of a site lay through a season, with the rain.
func StockChart(site string, days []sim.SiteDay, from, to int, date func(d int) string) (Chart, error) {
	return chart.Stock(site, days, from, to, date)
}

// UseChart draws what the dryers of some sites did in the hours of their shifts, day by day.
func UseChart(title string, sites []sim.SiteLedger, from, to int, date func(d int) string) (Chart, error) {
	return chart.Use(title, sites, from, to, date)
}

// LedgerBook returns the ledger of a season as a workbook.
func LedgerBook(l sim.RegionLedger) ([]byte, error) { return book.Ledger(l) }

// FittedSentences say how good the weather is that was fitted to a record.
func FittedSentences(station string, j weather.Judgement, contract []int) []string {
	return words.FittedSentences(station, j, contract)
}

// NormalsSentence says what weather of monthly normals alone cannot know.
func NormalsSentence(station string, sharp bool) string { return words.NormalsSentence(station, sharp) }

// HubSentence says in which air stalks lie at the hub, and what an open shed would do.
func HubSentence(h decide.HubAir) string { return words.HubSentence(h) }
