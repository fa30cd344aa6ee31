package report

import (
	"html"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/report/words"
	"drystalk/sim"
)

// someDay is the date of the papers of tests.
var someDay = time.Date(2026, time.November, 26, 9, 30, 0, 0, time.UTC)

// withWhatIsBehind returns a made-up answer with what stands behind it.
func withWhatIsBehind(r Report) Report {
	r.Background = Background{Region: `Lake <b> & "Tavari"`, Sites: 3, Contract: []Asked{{Month: "June", Stalks: 60_000}, {Month: "July", Stalks: 60_000}}, Target: 0.9}
	r.Reproduce = []string{"drystalk dryers made-up --seed 1", "scenario made-up.yaml, content 1234", "drystalk 1.2.3"}
	r.Assumptions = []sim.Assumption{{Name: "output of a cutter", Value: "0.6, 1, 1.5", VariedInTrials: true}, {Name: "evaporation of a rack", Value: "0.6"}}
	r.Brief.Seed, r.Brief.Version = 1, "1.2.3"
	return r
}

// paperOf returns a made-up answer as a paper.
func paperOf(t *testing.T, r Report) string {
	t.Helper()
	r = withWhatIsBehind(r)
	page, err := r.BriefHTML(someDay)
	require.NoError(t, err)
	again, err := r.BriefHTML(someDay.Add(time.Hour))
	require.NoError(t, err)
	assert.Equal(t, string(page), string(again), "a day has one paper")
	return strings.ReplaceAll(string(page), "\u00a0", " ")
}

// A paper asks its question, answers it and says all that a funder asks next, in this order; nothing
// in it is loaded from elsewhere, and names are escaped.
func TestAPaperReadsFromTopToBottom(t *testing.T) {
	r, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	page := paperOf(t, r)
	at := -1
	for _, next := range []string{
		"26 November 2026", "<h1>How many dryers does Lake &lt;b&gt; &amp; &#34;Tavari&#34; need, and where?</h1>", "The three groups of", "60,000 in each month that the contract names, from June to July",
		"The answer", "3 dryers (one each at North Landing", "<svg", "Each disc is the share", "The number of dryers, and what each would do", "3 (enough)",
		"What it costs, and who pays what", "To fund: 18,000 coins", "never paid back", "What would change the answer", "What to measure first", "mould growth", "Cautions", "Carbon monoxide",
		"How this paper was made", "By drystalk 1.2.3", "1,000 trial seasons (seed 1)", "scenario made-up.yaml, content 1234", "The annex, report.html", "<span>drystalk dryers made-up</span> <span>--seed 1</span>",
	} {
		found := strings.Index(page[at+1:], next)
		require.GreaterOrEqual(t, found, 0, "%q after what stands before it", next)
		at += 1 + found
	}
	for _, outside := range []string{" src=", " href=", "@import", "url("} {
		assert.NotContains(t, page, outside, "nothing is loaded from elsewhere")
	}
	assert.NotContains(t, page, "Lake <b>")
	assert.NotContains(t, page, "you wrote", "a funder wrote nothing")
}

// All four questions have a paper, and an answer without one says so.
func TestWhatHasAPaper(t *testing.T) {
	promise, err := ForPromise(Promised{Region: "Here", Promise: sample.Promise(), Contract: []Asked{{Month: "June", Stalks: 36_000}}, Penalty: 0.02, Currency: "coins"})
	require.NoError(t, err)
	page := paperOf(t, promise)
	assert.Contains(t, page, "How many good stalks a month can Here safely promise a buyer?")
	assert.Contains(t, page, "a penalty of 0.02 coins for each missing stalk")
	assert.Contains(t, page, "the output of a cutter (count stalks and hours of every cutter for one week)")
	assert.NotContains(t, page, "the evaporation of a rack (", "what is not drawn need not be measured")

	compare, err := ForCompare(compared())
	require.NoError(t, err)
	page = paperOf(t, compare)
	assert.Contains(t, page, "What would a second dryer at Heron Point do at Here, and does it pay?")
	assert.Contains(t, page, "What is bought costs T$ 6,000: a grant pays T$ 2,000")
	assert.Contains(t, page, "It does not pay if wood costs twice as much.")

	_, err = Report{}.BriefHTML(someDay)
	assert.EqualError(t, err, "this answer has no paper of two pages")
}

// A scenario without prices has a paper that says nothing of money and says so.
func TestAPaperWithoutPrices(t *testing.T) {
	a := sample.Answer()
	a.Money, a.Worth = nil, nil
	r, err := ForDryers(a, "", "")
	require.NoError(t, err)
	assert.Contains(t, paperOf(t, r), "No prices are stated")
}

var (
	styled = regexp.MustCompile(`font(?:-size)?: ?([0-9.]+)pt`)
	drawn  = regexp.MustCompile(`font-size:([0-9.]+)px`)
	svgIs  = regexp.MustCompile(`<svg width="([0-9.]+)pt"`)
)

// Every letter of a printed paper has 11 points or more (DIN 5008: 11 points for running text); those
// of the chart grow with it to the 178 mm between the margins.
func TestLettersOfAPaperHaveElevenPoints(t *testing.T) {
	r, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	page := paperOf(t, r)
	sizes := styled.FindAllStringSubmatch(page, -1)
	require.Greater(t, len(sizes), 4)
	for _, m := range sizes {
		points, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, points, 11.0, m[0])
	}
	wide, err := strconv.ParseFloat(svgIs.FindStringSubmatch(page)[1], 64)
	require.NoError(t, err)
	letters := drawn.FindAllStringSubmatch(page, -1)
	require.Greater(t, len(letters), 10)
	for _, m := range letters {
		points, err := strconv.ParseFloat(m[1], 64)
		require.NoError(t, err)
		assert.GreaterOrEqual(t, points*(178/25.4*72)/wide, 11.0, m[0])
	}
}

// What is told of the contract: one number for all months, or the least and the most.
func TestBackgroundOfAContract(t *testing.T) {
	said := func(sites int, months ...Asked) string {
		return words.Background{Region: "Here", Sites: sites, Contract: months, Target: 0.95}.Sentences()[0]
	}
	june := Asked{Month: "June", Stalks: 900}
	assert.Equal(t, "The group of Here pulls the stalks of a water plant, dries them on racks and sells the good ones to a buyer: 900 in June.", said(1, june))
	assert.Equal(t, "The 14 groups of Here pull the stalks of a water plant, dry them on racks and sell the good ones to a buyer: 900 to 1,200 in each month that the contract names, from June to July.",
		said(14, june, Asked{Month: "July", Stalks: 1200}))
}

// clumsy are words that nobody says aloud: numbers that do not agree, a word said twice, signs
// without anything between them.
var clumsy = regexp.MustCompile(`(?:^|[^.,0-9])1 (years|months|dryers|futures|members|seasons|hours|coins|steps|budgets)\b|\bis grant\b|\bfor pay for\b|\.\.|, ,|: \.|\(\)| \.|\? [a-z]|they stand at|in all\.$|in none\.$`)

var paragraphs = regexp.MustCompile(`(?s)<(?:p|figcaption|p class="[a-z]+")>(.*?)</(?:p|figcaption)>`)

// Every paragraph of a paper can be read aloud: 94 words, 12 numbers, and nothing clumsy.
func TestPapersCanBeReadAloud(t *testing.T) {
	answers := answersWithPapers(t)
	require.Len(t, answers, 3)
	for _, r := range answers {
		found := paragraphs.FindAllStringSubmatch(paperOf(t, r), -1)
		require.Greater(t, len(found), 8, r.Title)
		for _, p := range found {
			if strings.Contains(p[1], "<code>") || strings.HasPrefix(p[1], "By drystalk") {
				continue
			}
			n, numbers := words.Count(html.UnescapeString(p[1]))
			assert.LessOrEqual(t, n, 94, p[1])
			assert.LessOrEqual(t, numbers, 12, p[1])
			assert.NotRegexp(t, clumsy, p[1])
		}
	}
}
