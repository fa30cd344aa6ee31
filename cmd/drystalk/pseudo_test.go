package main

import (
	"bytes"
	"fmt"
	"html"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/scenarios"
	"drystalk/tongue"
)

// A made-up language shows every text that does not go through the catalogue: all its letters are
// other letters, so that a run of plain ones in what the program says is a text left outside, or a
// name, a key or a unit.

// otherLetters stand for the plain ones, in their order.
var otherLetters = []rune("αβςδεφĝηιјκλμνοπθρστυѵωχψζ")

// made writes a text in the made-up language; places for arguments stay.
func made(text string) string {
	var b strings.Builder
	last := 0
	write := func(s string) {
		for _, r := range s {
			switch {
			case r >= 'a' && r <= 'z':
				r = otherLetters[r-'a']
			case r >= 'A' && r <= 'Z':
				r = otherLetters[r-'A']
			}
			b.WriteRune(r)
		}
	}
	for _, at := range placesOfArguments.FindAllStringIndex(text, -1) {
		write(text[last:at[0]])
		b.WriteString(text[at[0]:at[1]])
		last = at[1]
	}
	write(text[last:])
	return b.String()
}

// placesOfArguments are those of formats, and of the page's sentences.
var placesOfArguments = regexp.MustCompile(`%[-+#0]*(?:\[\d+\])?\d*(?:\.\d+)?[vTtbcdoqxXUeEfFgGspw%]|\{money\}`)

// madeUp writes the whole catalogue in the made-up language, as a file that the program reads.
func madeUp(t *testing.T) []byte {
	t.Helper()
	var all struct{ Texts map[string]any }
	require.NoError(t, yaml.Unmarshal(tongue.English, &all))
	require.Greater(t, len(all.Texts), 2000)
	var b bytes.Buffer
	b.WriteString("language: en-XA\ntexts:\n")
	for _, text := range slices.Sorted(maps.Keys(all.Texts)) {
		if forms, ok := all.Texts[text].(map[string]any); ok {
			fmt.Fprintf(&b, "  %s: {one: %s, other: %s}\n", strconv.Quote(text), strconv.Quote(made(forms["one"].(string))), strconv.Quote(made(text)))
			continue
		}
		fmt.Fprintf(&b, "  %s: %s\n", strconv.Quote(text), strconv.Quote(made(text)))
	}
	return b.Bytes()
}

// outside are what may stand in plain letters, each with its reason. What is looked for first is taken
// away first.
var outside = []struct {
	what *regexp.Regexp
	why  string
}{
	{regexp.MustCompile(`(?m)^\s*drystalk [^\n]*$|drystalk (?:dryers|odds|compare|promise|spend|ways|season|charge|check)[^\n<;,]*`), "a command line"},
	{regexp.MustCompile(`\b[\w.-]+\.(?:html|svg|png|xlsx|csv|json|yaml|parquet)\b`), "the name of a file"},
	{regexp.MustCompile(`\b[0-9a-f]{16,}\b|[/\\]parts[/\\]`), "the content of a file or of a study"},
	{regexp.MustCompile(`--[a-z-]+`), "an option"},
	{regexp.MustCompile(`\b[a-z]+(?:[_.][a-z0-9]+)+\b`), "a key"},
	{regexp.MustCompile(`\b(?:change|contract|target|hub|speaks|dryer|yard|luck|people|trouble|road|store|weather|coast|cutters|crew|sheets|stand|money|sites)\b`), "a key of one word, or a group of keys"},
	{regexp.MustCompile(`\b(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)\b`), "a month as the end of a key"},
	{regexp.MustCompile(`\b(?:false|true|daily|members|hired|cut|good|driest|wettest|oldest|en)\b`), "a value as files state it"},
	{regexp.MustCompile(`\b(?:kg|mm|cm|km|kPa|MB|ha|per cent)\b`), "a unit"},
	{regexp.MustCompile(`\b(?:drystalk|JSON|CSV|YAML|GHCN|Daily)\b`), "the name of the program or of a form of files"},
	{regexp.MustCompile(`\b(?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b`), "not covered yet: months on axes of days, and in a few sentences put together from pieces"},
	{regexp.MustCompile(`\b(?:collections|days|stalks|dryers|charges|seasons|months|coins|coin|person-h|dryer-h|share)\b`), "a unit of a number, or the scenario's currency"},
	{regexp.MustCompile(`Heron Point cooperative|Lake Tavari|One [Cc]ooperative|Heron Point|Stone Weir group|Two Banks|Lake Velune|Upper Ford|Stone Weir's|tiny|XXXXX|Old Sluice|Reed Bank|North Landing|Ferry Bank|Willow Creek|Mill Reach|Stone Weir|Lower Channel|lake-tavari|one-cooperative`), "a name of the scenario"},
}

// stationsOfTable are the names of the stations that a scenario can name.
var stationsOfTable = sync.OnceValue(func() *regexp.Regexp {
	var names []string
	for _, s := range scenarios.StationChoices() {
		names = append(names, regexp.QuoteMeta(s.Name), regexp.QuoteMeta(strings.ReplaceAll(s.Name, " ", "_")), regexp.QuoteMeta(s.Country))
	}
	return regexp.MustCompile(`\b(?:` + strings.Join(names, "|") + `)\b`)
})

// leftOutside returns the texts of plain letters in what the program said, in their order.
func leftOutside(said string) []string {
	said = outside[0].what.ReplaceAllString(said, "·")
	said = strings.Join(strings.Fields(said), " ") // lines of a terminal are broken anywhere
	said = stationsOfTable().ReplaceAllString(said, "·")
	for _, o := range outside {
		said = o.what.ReplaceAllString(said, "·")
	}
	var out []string
	for _, s := range plainText.FindAllString(said, -1) {
		if !slices.Contains(out, s) {
			out = append(out, s)
		}
	}
	return out
}

// plainText is a word of plain letters and what follows it in such letters.
var plainText = regexp.MustCompile(`[A-Za-z]{2,}(?:[ ,'-]+[A-Za-z]+)*`)

var (
	unseen = regexp.MustCompile(`(?s)<style>.*?</style>|<script.*?</script>|<code>.*?</code>`)
	spoken = regexp.MustCompile(`(?:alt|aria-label|title|placeholder|data-single|data-plural)="([^"]*)"`)
	tags   = regexp.MustCompile(`(?s)<[^>]*>`)
)

// saidOn returns what a page or picture says to somebody who sees it or has it read aloud.
func saidOn(page string) string {
	page = unseen.ReplaceAllString(page, "")
	var b strings.Builder
	for _, m := range spoken.FindAllStringSubmatch(page, -1) {
		b.WriteString(html.UnescapeString(m[1]) + "\n")
	}
	b.WriteString(html.UnescapeString(tags.ReplaceAllString(page, "\n")))
	return b.String()
}

// saidIn returns the words of a file that the program wrote.
func saidIn(t *testing.T, file string) string {
	t.Helper()
	switch filepath.Ext(file) {
	case ".html", ".svg":
		data, err := os.ReadFile(file)
		require.NoError(t, err)
		return saidOn(string(data))
	case ".xlsx":
		f, err := excelize.OpenFile(file)
		require.NoError(t, err)
		defer f.Close()
		var b strings.Builder
		for _, sheet := range f.GetSheetList() {
			b.WriteString(sheet + "\n")
			rows, err := f.GetRows(sheet)
			require.NoError(t, err)
			for _, row := range rows {
				b.WriteString(strings.Join(row, "\n") + "\n")
			}
		}
		return b.String()
	}
	return ""
}

// A text that stands outside is found, also inside of one that does not.
func TestWhatStandsOutsideIsFound(t *testing.T) {
	assert.Equal(t, []string{"bare word", "another"}, leftOutside(made("This is said, ")+"bare word"+made(", and this.")+" another 12 kg"))
	assert.Equal(t, []string{"on a picture"}, leftOutside(saidOn(`<svg><text x="1">on a picture</text><text>`+made("said")+`</text></svg>`)))
	assert.Empty(t, leftOutside(made("All of it is said, 92 of 100.")))
}
