package report

import (
	"slices"
	"time"

	"drystalk/report/book"
	"drystalk/report/chart"
	"drystalk/report/paper"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/weather"
	"drystalk/tongue"
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

// SortingScript is the script that makes tables sortable in a browser.
func SortingScript() string { return string(paper.Sorting()) }

// Note is a row of what stands beside an answer.
type Note = words.Note

// DefaultsInShort says how much an answer rests on besides the file.
func DefaultsInShort(assumptions int) string { return words.DefaultsInShort(assumptions) }

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

// YearsInShort says in the paragraph of an answer how the plan fares in real years.
func YearsInShort(y decide.YearsResult) string { return words.YearsInShort(y) }

// Verdict returns whether what the second plan buys pays, in words; "" where nothing is bought, or
// where something of it has no price.
func Verdict(c decide.Comparison) string {
	if c.Purchase == nil || len(c.Unpriced) > 0 {
		return ""
	}
	return words.Verdict(c.Purchase.Verdict)
}

// SideBySide returns, by contract month, what each of both plans is asked and its odds, and the
// good stalks more, as text.
func SideBySide(c decide.Comparison) [][6]string { return table.SideBySide(c) }

// NormalsTable sets the rain of a record beside the monthly normals of the same place.
func NormalsTable(s weather.Summary, n weather.Normals) Table { return table.Normals(s, n) }

// RefusedYears names the years of a record that are not used, and why.
func RefusedYears(s weather.Summary) []string { return words.RefusedYears(s) }

// SiteTable lists the months of one site's season.
func SiteTable(l sim.SiteLedger, hub []sim.HubMonth) Table { return table.Site(l, hub) }

// DaysTable lists the days of one site from one day of the season to another.
func DaysTable(site string, days []sim.SiteDay, w Days) Table {
	return table.Days(site, days, w.From, w.To, func(day int) string { return words.Date(w.Date(day)) })
}

// HubTable lists the months at the hub.
func HubTable(hub []sim.HubMonth) Table { return table.Hub(hub) }

// StockChart draws where the stalks of a site lay through a season, with the rain.
func StockChart(site string, days []sim.SiteDay, w Days) (Chart, error) {
	return chart.Stock(site, days, w)
}

// UseChart draws what the dryers of some sites did in the hours of their shifts, day by day.
func UseChart(title string, sites []sim.SiteLedger, w Days) (Chart, error) {
	return chart.Use(title, sites, w)
}

// Place is a site with what stands there.
type Place = chart.Place

// Point is where a site lies.
type Point = chart.Point

// WithPlaces adds to a report the picture of where dryers stand, after its first chart. One site alone
// needs none.
func WithPlaces(r Report, places []Place) (Report, error) {
	if len(places) < 2 || len(r.Sections) == 0 {
		return r, nil
	}
	drawn, err := chart.Places(places)
	if err != nil {
		return Report{}, err
	}
	r.Sections = slices.Clone(r.Sections)
	r.Sections[0].Charts = append(slices.Clone(r.Sections[0].Charts), drawn)
	return r, nil
}

// Days are days of a season with the name of each.
type Days = chart.Days

// Pickup is a collection and what it must bring.
type Pickup = chart.Pickup

// PickupsOf are the collections of a region, each with its part of what the contract asks of its
// month.
func PickupsOf(r *sim.Region) []Pickup {
	days := r.Calendar.CollectionDays(r.Hub.CollectionsPerMonth)
	in := map[time.Month]int{}
	for _, d := range days {
		month, _ := r.Calendar.Date(d)
		in[month]++
	}
	var out []Pickup
	for _, d := range days {
		month, _ := r.Calendar.Date(d)
		if asked := r.Contract.StalksByMonth[month]; asked > 0 {
			out = append(out, Pickup{Day: d, Must: float64(asked) / float64(in[month])})
		}
	}
	return out
}

// GlanceChart draws one season of some sites on one page, on one axis of days.
func GlanceChart(title string, sites []sim.SiteLedger, w Days, pickups []Pickup) (Chart, error) {
	return chart.Glance(title, sites, w, pickups)
}

// LedgerBook returns the ledger of a season as a workbook, its last sheet what the answer says and
// its cautions.
func LedgerBook(l sim.RegionLedger, r Report) ([]byte, error) {
	return book.Ledger(r.Background.Region, l, append([]string{r.Sentence, r.Words(), "", tongue.Say("Cautions")}, Cautions()...))
}

// FittedSentences say how good the weather is that was fitted to a record.
func FittedSentences(station string, j weather.Judgement, contract []int) []string {
	return words.FittedSentences(station, j, contract)
}

// WaysHold says that an answer is of a plan that works in the ways of a file.
func WaysHold(file string) string { return words.WaysHold(file) }

// InventedWords says of a demo that it is one.
func InventedWords() string { return words.InventedWords() }

// HumidityInShort says in the paragraph of an answer that the humidity of some stations is guessed.
func HumidityInShort(guessed []string) []string { return words.HumidityInShort(guessed) }

// Fit is a weather that was fitted to a station's record, and what is held of it.
type Fit = words.Fit

// FittedInShort says in the paragraph of an answer how good fitted weathers are.
func FittedInShort(fits []Fit) string { return words.FittedInShort(fits) }

// NormalsInShort says in the paragraph of an answer what weather of monthly normals cannot know.
func NormalsInShort(sharp bool) string { return words.NormalsInShort(sharp) }

// HubInShort says in the paragraph of an answer in which air stalks lie at the hub.
func HubInShort(h decide.HubAir) string { return words.HubInShort(h) }

// NormalsSentence says what weather of monthly normals alone cannot know.
func NormalsSentence(station string, sharp bool) string { return words.NormalsSentence(station, sharp) }

// HubSentence says in which air stalks lie at the hub, and what an open shed would do.
func HubSentence(h decide.HubAir) string { return words.HubSentence(h) }
