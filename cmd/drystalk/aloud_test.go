package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What a sentence and a paragraph may hold that are read aloud where it is decided.
const (
	mostWordsOfASentence  = 46 // about 40, and the places of dryers
	mostWordsOfAParagraph = 94
	mostNumbers           = 12
)

// clumsy are words that nobody says aloud: numbers that do not agree, signs without anything between
// them, odds of all or none that do not say of what.
var clumsy = regexp.MustCompile(`(?:^|[^.,0-9])1 (years|months|dryers|futures|members|seasons|hours|coins|steps|budgets)\b|\bis grant\b|\.\.|, ,|: \.|\(\)| \.|\? [a-z]|they stand at|\bmet in (all|none|nearly all)\.`)

var numbers = regexp.MustCompile(`\d[\d.,]*`)

// spokenWords counts the words that somebody says who reads a text aloud: signs alone are none.
func spokenWords(text string) int {
	n := 0
	for _, w := range strings.Fields(text) {
		if strings.ContainsAny(strings.ToLower(w), "abcdefghijklmnopqrstuvwxyz0123456789") {
			n++
		}
	}
	return n
}

// fourteenSites is a scenario of fourteen sites with long names.
func fourteenSites() string {
	var b strings.Builder
	head, _, _ := strings.Cut(tiny, "sites:")
	b.WriteString(strings.Replace(head, "jun: 4500", "jun: 45000", 1) + "sites:\n")
	for k := range 14 {
		fmt.Fprintf(&b, "  Upper Backwater Landing of the Village of %c: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, max_dryers: 1}\n", 'A'+k)
	}
	return b.String()
}

// spokenOf are the scenarios that answers are read of: both demos, one site, fourteen sites with
// long names, and a contract that nothing reaches.
func spokenOf(t *testing.T) map[string]string {
	t.Helper()
	of := map[string]string{"lake-tavari": "lake-tavari", "one-cooperative": "one-cooperative"}
	for name, text := range map[string]string{"one-site": tiny, "fourteen-sites": fourteenSites(), "nothing-reaches": strings.Replace(tiny, "jun: 4500", "jun: 450000", 1)} {
		file := filepath.Join(t.TempDir(), name+".yaml")
		require.NoError(t, os.WriteFile(file, []byte(text), 0o644))
		of[name] = file
	}
	return of
}

// spokenCommands are the commands whose answers are read aloud, with few seasons, and the scenarios
// that they take too long for here.
var spokenCommands = []struct {
	args []string
	not  string
}{
	{[]string{"odds", "--seasons", "30", "--short", "5"}, ""},
	{[]string{"dryers", "--seasons", "30", "--search", "30", "--limit", "30", "--short", "5"}, "lake-tavari"},
	{[]string{"promise", "--seasons", "30", "--search", "30"}, "lake-tavari"},
	{[]string{"spend", "--budget", "5000", "--seasons", "30", "--search", "30"}, "lake-tavari one-cooperative fourteen-sites"},
	{[]string{"spend", "--cheapest", "--seasons", "30", "--search", "30"}, "lake-tavari one-cooperative fourteen-sites"},
	{[]string{"spend", "--budget", "2500,5000", "--seasons", "30", "--search", "30"}, "lake-tavari one-cooperative fourteen-sites"},
	{[]string{"ways", "--seasons", "30", "--search", "30", "--judge", "30"}, "lake-tavari one-cooperative fourteen-sites"},
	{[]string{"season", "--number", "3"}, ""},
	{[]string{"charge"}, ""},
	{[]string{"check"}, ""},
	{[]string{"compare", "--with", "dryer: shift_end_h=20", "--seasons", "30", "--futures", "30"}, "lake-tavari"},
}

// Every command says one sentence and a paragraph that can be read aloud, on both demos and on three
// odd scenarios; duties are among them, and nothing that a treasurer stumbles over.
func TestAnswersCanBeReadAloud(t *testing.T) {
	said, left := 0, 0
	slower := os.Getenv("DRYSTALK_LONG") != ""
	of := spokenOf(t)
	require.Len(t, of, 5)
	for name, file := range of {
		for _, c := range spokenCommands {
			if strings.Contains(c.not, name) {
				continue
			}
			slow := (c.args[0] == "dryers" || c.args[0] == "promise") && (name == "fourteen-sites" || name == "one-cooperative")
			if slow != slower {
				left++ // DRYSTALK_LONG=1, as in .ci/run, asks for the slow ones, and for these alone
				continue
			}
			args := append([]string{c.args[0], file, "--json"}, c.args[1:]...)
			if c.args[0] == "check" {
				args = []string{"check", file, "--json"}
			}
			code, out, errOut := runHere(t, args...)
			require.Equal(t, exitDone, code, "%s of %s: %s", c.args[0], name, errOut)
			var a struct {
				Sentence, Paragraph, Caution string
				Cautions                     []string
				Invented                     bool
			}
			require.NoError(t, json.Unmarshal([]byte(out), &a))
			readAloud(t, c.args[0]+" of "+name, a.Sentence, a.Paragraph)
			assert.Contains(t, a.Caution, "Carbon monoxide", name)
			assert.NotEmpty(t, a.Cautions, name)
			assert.Equal(t, strings.HasPrefix(file, name), a.Invented, "%s: a demo, and no other", name)
			assert.Equal(t, a.Invented, strings.Contains(a.Paragraph, "are invented."), name)
			said++
		}
	}
	assert.Equal(t, 40, said+left)
	assert.Equal(t, map[bool]int{false: 36, true: 4}[slower], said)
}

// readAloud counts a sentence and a paragraph.
func readAloud(t *testing.T, what, sentence, paragraph string) {
	t.Helper()
	assert.LessOrEqual(t, spokenWords(sentence), mostWordsOfASentence, "%s: %s", what, sentence)
	assert.LessOrEqual(t, spokenWords(paragraph), mostWordsOfAParagraph, "%s: %s", what, paragraph)
	assert.LessOrEqual(t, len(numbers.FindAllString(paragraph, -1)), mostNumbers, "%s: %s", what, paragraph)
	assert.Regexp(t, `\.$`, sentence, what)
	assert.NotEmpty(t, paragraph, what)
	assert.NotRegexp(t, clumsy, sentence+" "+paragraph, what)
	for _, never := range []string{"first plan", "second plan", "(fund)", "guarantee", "confidence", "NaN", "Inf", "%!", "  ", "T$"} {
		assert.NotContains(t, sentence+" "+paragraph, never, what)
	}
	if strings.HasPrefix(what, "odds") || strings.HasPrefix(what, "dryers") || strings.HasPrefix(what, "promise") || strings.HasPrefix(what, "spend") || strings.HasPrefix(what, "compare") {
		assert.Contains(t, paragraph, "The hub's store is taken as", what)
		assert.Contains(t, paragraph, "Monthly averages", what)
	}
}
