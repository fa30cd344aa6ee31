package main

import (
	"bytes"
	"context"
	"fmt"
	"html"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"drystalk/sim/knowledge"
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
	{regexp.MustCompile(`\b[0-9a-f]{16}\b`), "the content of a file"},
	{regexp.MustCompile(`--[a-z-]+`), "an option"},
	{regexp.MustCompile(`\b[a-z]+(?:[_.][a-z0-9]+)+\b`), "a key"},
	{regexp.MustCompile(`\b(?:kg|mm|cm|km|kPa|MB|ha|per cent)\b`), "a unit"},
	{regexp.MustCompile(`\b(?:drystalk|JSON|CSV|YAML|GHCN|Daily)\b`), "the name of the program or of a form of files"},
	{regexp.MustCompile(`\b(?:January|February|March|April|May|June|July|August|September|October|November|December|Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec)\b`), "not covered yet: months on axes of days, and in a few sentences put together from pieces"},
	{regexp.MustCompile(`\b(?:stalks|dryers|charges|seasons|months|coins|coin|person-h|dryer-h|share)\b`), "a unit of a number, or the scenario's currency"},
	{regexp.MustCompile(`The weather is drawn from the monthly normals of[^\n]*`), "not covered yet: what the weather model says of itself (sim/weather)"},
	{regexp.MustCompile(`Heron Point cooperative|Lake Tavari|One [Cc]ooperative|Heron Point|Old Sluice|Reed Bank|North Landing|Ferry Bank|Willow Creek|Mill Reach|Stone Weir|Lower Channel|lake-tavari|one-cooperative`), "a name of the scenario"},
}

// leftOutside returns the texts of plain letters in what the program said, in their order.
func leftOutside(said string) []string {
	said = outside[0].what.ReplaceAllString(said, "·")
	said = strings.Join(strings.Fields(said), " ") // lines of a terminal are broken anywhere
	for _, r := range knowledge.Table() {          // not covered yet: what the table of the unmeasured says of itself
		said = strings.NewReplacer(r.Measure, "·", r.Name, "·").Replace(said)
	}
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
	unseen = regexp.MustCompile(`(?s)<style>.*?</style>|<table class="assumed">.*?</table>|<script.*?</script>|<code>.*?</code>`)
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
	case ".xlsx": // its sheets; its cells are those of the tables
		f, err := excelize.OpenFile(file)
		require.NoError(t, err)
		defer f.Close()
		var b strings.Builder
		for _, sheet := range f.GetSheetList() {
			b.WriteString(sheet + "\n")
		}
		return b.String()
	}
	return ""
}

// found runs a command in the made-up language and returns what it leaves outside, by where.
func found(t *testing.T, language string, args ...string) map[string][]string {
	t.Helper()
	dir := t.TempDir()
	var out, errOut bytes.Buffer
	args = append(args, "--language", language)
	if slices.Contains([]string{"dryers", "odds", "compare", "promise", "spend", "ways", "season", "charge"}, args[0]) {
		args = append(args, "--out", dir)
	}
	code := run(context.Background(), args, &out, &errOut)
	require.Zero(t, code, errOut.String())
	all := map[string][]string{"answer": leftOutside(strings.ReplaceAll(out.String(), dir, "")), "messages": leftOutside(errOut.String())}
	require.NoError(t, filepath.WalkDir(dir, func(file string, d os.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			all[d.Name()] = leftOutside(saidIn(t, file))
		}
		return err
	}))
	return all
}

// asked are the commands that the language is looked for in: the first in every run of the tests, the
// others with DRYSTALK_LONG.
var asked = []string{
	"odds one-cooperative --seasons 30",
	"odds --seasons 30",
	"charge",
	"promise --seasons 30 --search 30",
	"season --number 3",
	"compare one-cooperative --seasons 30 --futures 30 --with Heron~Point:~dryers=2",
	"dryers --seasons 30 --search 30 --limit 30 --short 3",
	"ways one-cooperative --seasons 30 --search 30",
}

// Nothing that the program says in its answers, reports, papers and charts stands outside the
// catalogue. What is not covered stands in outside with its reason.
func TestNothingIsSaidOutsideTheCatalogue(t *testing.T) {
	language := filepath.Join(t.TempDir(), "made-up.yaml")
	require.NoError(t, os.WriteFile(language, madeUp(t), 0o644))
	defer tongue.Use(nil)
	list := asked[:1]
	if os.Getenv("DRYSTALK_LONG") != "" {
		list = asked[1:]
	}
	require.NotEmpty(t, list)
	for _, line := range list {
		places := found(t, language, words(line)...)
		require.Greater(t, len(places), 3, line)
		for where, texts := range places {
			assert.Empty(t, texts, "%s, %s: these texts do not go through the catalogue (package tongue)", line, where)
		}
	}
}

// A text that stands outside is found, also inside of one that does not.
func TestWhatStandsOutsideIsFound(t *testing.T) {
	assert.Equal(t, []string{"bare word", "another"}, leftOutside(made("This is said, ")+"bare word"+made(", and this.")+" another 12 kg"))
	assert.Equal(t, []string{"on a picture"}, leftOutside(saidOn(`<svg><text x="1">on a picture</text><text>`+made("said")+`</text></svg>`)))
	assert.Empty(t, leftOutside(made("All of it is said, 92 of 100.")))
}

// words are the arguments of a command line, ~ for a space inside of one.
func words(line string) []string {
	args := strings.Fields(line)
	for i, a := range args {
		args[i] = strings.ReplaceAll(a, "~", " ")
	}
	return args
}
