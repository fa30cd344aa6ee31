package main

import (
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/alecthomas/kong"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/tongue"
)

// englishNumber is a number as an answer writes it where nothing else is asked for.
var englishNumber = regexp.MustCompile(`[0-9][0-9,]*(?:\.[0-9]+)?`)

// asInBrazil is how the same number is written in Brazil.
func asInBrazil(number string) string {
	list := strings.TrimRight(number, ",") // a comma behind a number
	return strings.NewReplacer(",", ".", ".", ",").Replace(list) + number[len(list):]
}

// An answer with numbers_as_in is the answer without it, word for word, but for the marks in its
// numbers: on the screen, in the report and on the two pages. Numbers of JSON, CSV and the first sheet's
// neighbours are plain, and the line that gives the same numbers is the same.
func TestNumbersAsInChangesMarksAndNothingElse(t *testing.T) {
	t.Chdir(t.TempDir())
	t.Cleanup(func() { require.NoError(t, tongue.WriteNumbersAsIn("")) })
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny), 0o644))
	asked := []string{"dryers", "plan.yaml", "--seasons", "30", "--search", "30", "--short", "5", "--brief", "--date", "2026-11-26", "--out"}
	code, plain, errOut := runHere(t, append(asked, "plain")...)
	require.Equal(t, exitDone, code, errOut)
	require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny+"numbers_as_in: pt-BR\n"), 0o644))
	code, there, errOut := runHere(t, append(asked, "there")...)
	require.Equal(t, exitDone, code, errOut)
	text := func(out string) string { return out[:strings.Index(out, "Planning estimates")] }
	require.Regexp(t, `[0-9],[0-9]{3}`, text(plain))
	require.Regexp(t, `[0-9]\.[0-9]`, text(plain))
	assert.Equal(t, inBrazil(squeezed(text(plain))), squeezed(text(there)))
	for _, name := range []string{"report.html", "brief.html"} {
		assert.Equal(t, inBrazil(wordsOf(t, filepath.Join("plain", name))), wordsOf(t, filepath.Join("there", name)), name)
	}
	for _, name := range []string{"figures.csv"} {
		a, err := os.ReadFile(filepath.Join("plain", name))
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join("there", name))
		require.NoError(t, err)
		assert.Equal(t, valuesOf(t, a), valuesOf(t, b), "numbers for programs are plain")
	}
}

// inBrazil is a text with its numbers as in Brazil.
func inBrazil(text string) string { return englishNumber.ReplaceAllStringFunc(text, asInBrazil) }

// notSaid is what nobody reads in a page, and what files state as they state it.
var notSaid = regexp.MustCompile(`(?s)<style>.*?</style>|<script>.*?</script>|<code>.*?</code>|What this rests on.*|How this paper was made.*|<[^>]*>`)

// wordsOf are the words of a page, those of its charts too.
func wordsOf(t *testing.T, file string) string {
	t.Helper()
	page, err := os.ReadFile(file)
	require.NoError(t, err)
	return squeezed(notSaid.ReplaceAllString(string(page), " "))
}

// squeezed is a text without its places of breaking lines and columns.
func squeezed(text string) string { return strings.Join(strings.Fields(text), " ") }

// valuesOf are the values of a file of figures.
func valuesOf(t *testing.T, data []byte) []string {
	t.Helper()
	values := regexp.MustCompile(`(?m),(-?[0-9.e+-]+),[^,]*$`).FindAllStringSubmatch(string(data), -1)
	require.Greater(t, len(values), 20)
	var out []string
	for _, v := range values {
		out = append(out, v[1])
	}
	return out
}

// What is no language is refused with its line, as everything of a file is.
func TestNumbersAsInNowhereIsRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	const allowed = ", allowed: a language, and a country if need be, as a BCP 47 tag: en-IN for 13,22,350.5, fr for 1 322 350,5, pt-BR for 1.322.350,5\n"
	for value, found := range map[string]string{"zz": `"zz"`, "comma": `"comma"`, "german": `"german"`, "1.5": "1.5", "[de]": "a list", `""`: `""`, "": "nothing", "null": "nothing", "en-XX": `"en-XX"`, "de-ZZ": `"de-ZZ"`} {
		require.NoError(t, os.WriteFile("plan.yaml", []byte(tiny+"numbers_as_in: "+value+"\n"), 0o644))
		code, out, errOut := runHere(t, "check", "plan.yaml")
		assert.Equal(t, exitUsage, code, value)
		assert.Empty(t, out, value)
		assert.Contains(t, errOut, "plan.yaml:8: numbers_as_in: found "+found)
		assert.Contains(t, errOut, allowed)
	}
}

// A budget that may be thousands, decimals or two budgets is refused before anything is asked.
func TestBudgetsInTwoWaysAreRefused(t *testing.T) {
	t.Chdir(t.TempDir())
	budgets := map[string]string{"5.500": "allowed: 5500, or 5.5\n", "5,500": "allowed: 5500, or \"5, 500\"", "10,000": "allowed: 10000\n"}
	require.Len(t, budgets, 3)
	for budget, allowed := range budgets {
		code, out, errOut := runHere(t, "spend", "one-cooperative", "--budget", budget)
		assert.Equal(t, exitUsage, code, budget)
		assert.Empty(t, out, budget)
		assert.Contains(t, errOut, "error: --budget: found \""+budget+"\", wh", budget)
		assert.Contains(t, errOut, allowed, budget)
	}
	var several commands
	parser, err := kong.New(&several, kong.TypeMapper(reflect.TypeFor[[]float64](), kong.MapperFunc(listOfNumbers)), kong.Vars{"version": version})
	require.NoError(t, err)
	_, err = parser.Parse([]string{"spend", "one-cooperative", "--budget", "500", "--budget", "5000,10000"})
	require.NoError(t, err)
	assert.Equal(t, []float64{500, 5000, 10000}, several.Spend.Budget)
}

// A seed that is no whole number from 0 is told as other options are, and a change that changes nothing
// is told so.
func TestSeedsAndChangesThatCannotBeUsed(t *testing.T) {
	faults := map[string][]string{
		`error: --seed: found "-4", allowed: a whole number from 0`:                                               {"odds", "--seed", "-4"},
		`error: --seed: found "-5", allowed: a whole number from 0`:                                               {"odds", "--seed=-5"},
		`error: --seed: found "1.5", allowed: a whole number from 0`:                                              {"odds", "--seed", "1.5"},
		`error: --seasons: found -4, allowed: 30 to 1000000`:                                                      {"odds", "--seasons", "-4"},
		`error: --seasons: found "1,000", allowed: a whole number in digits alone, such as 1000`:                  {"odds", "--seasons", "1,000"},
		`error: --seasons: found nothing, allowed: a whole number in digits alone, such as 1000`:                  {"odds", "--seasons", "--json"},
		`error: --moisture: found "0,9", allowed: a number with a point before its decimals, such as 5500 or 0.5`: {"charge", "--moisture", "0,9"},
		`error: --seed: found nothing, allowed: a whole number from 0`:                                            {"odds", "--seed", "--json"},
		"error: --with: found nothing that changes one-cooperative.yaml: what is stated stands there already":     {"compare", "one-cooperative", "--with", "Heron Point: dryers=1"},
		"error: --with: sites.Heron Point.dryer: found an unknown key, did you mean dryers?":                      {"odds", "one-cooperative", "--with", "Heron Point: dryer=2"},
		"error: one-cooperative.yaml and one-cooperative.yaml: the plans do not differ":                           {"compare", "one-cooperative", "one-cooperative"},
	}
	require.Len(t, faults, 11)
	for said, args := range faults {
		code, _, errOut := runHere(t, args...)
		assert.Equal(t, exitUsage, code, said)
		assert.Equal(t, said+"\n", errOut)
	}
}
