package paper

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/table"
)

// someBrief is a paper whose answer has so many sentences and whose command line so many words.
func someBrief(sentences, words int) Brief {
	says := []string{strings.Repeat("Nobody has measured these at this place, so that each trial season drew other numbers. ", 4)}
	return Brief{
		Region: "Here", Question: "How many dryers does Here need, and where?", About: []string{strings.Repeat("The groups of Here sell stalks to a buyer. ", 12)},
		Sentence: "3 dryers are enough: the worst month, July, is met in 93 of 100 trial seasons.",
		Answer:   []string{strings.Repeat("In this model 3 is enough and 2 is not. ", sentences)}, Reading: "Each disc is a share.",
		Table:    table.Table{Title: "What each number would do", Head: []string{"dryers", "met in"}, Left: 1},
		Passages: []Passage{{"Costs", says}, {"Changes", says}, {"Measure", says}, {"Cautions", says}},
		Made:     "By drystalk.", Lines: []string{strings.Repeat("--with here ", words)},
	}
}

// The more an answer says, the lower its chart and the closer its lines; a command line that leaves
// no room goes into the annex, and whatever is said, the chart stays readable.
func TestLayoutMakesRoom(t *testing.T) {
	assert.Equal(t, layout{ChartMM: mostChartHigh}, someBrief(3, 4).laidOut())
	last, lower := mostChartHigh, 0
	for n := 3; n < 60; n++ {
		set := someBrief(n, 4).laidOut()
		assert.GreaterOrEqual(t, set.ChartMM, leastChartHigh, n)
		if set.Tight {
			break
		}
		if set.ChartMM < last {
			lower++
		}
		last = set.ChartMM
	}
	assert.Positive(t, lower)
	assert.True(t, someBrief(70, 4).laidOut().Tight)
	assert.False(t, someBrief(3, 20).laidOut().Annexed)
	assert.True(t, someBrief(3, 200).laidOut().Annexed)
}

// A text comes out in as many lines as its words fill.
func TestLinesOf(t *testing.T) {
	for text, want := range map[string]float64{"": 1, "ab cd": 1, "ab cde": 2, "abcdefgh": 1, "a b c d e": 2, "ab cd ef gh": 2} {
		assert.InDelta(t, want, linesOf(text, 5), 0, text)
	}
}

var letters = regexp.MustCompile(`font(?:-size)?: ([0-9.]+)(pt|px|rem|em)`)

// No letter of a paper is smaller than 11 points.
func TestLettersOfAPaper(t *testing.T) {
	sizes := letters.FindAllStringSubmatch(briefText, -1)
	require.Len(t, sizes, 6)
	for _, s := range sizes {
		points, err := strconv.ParseFloat(s[1], 64)
		require.NoError(t, err)
		assert.Equal(t, "pt", s[2])
		assert.GreaterOrEqual(t, points, 11.)
	}
}

// A figure with its interval that is set in two lines makes its row as high, and words that stay
// together do so in the reckoning too.
func TestRowsOfTwoLines(t *testing.T) {
	row := func(text string) float64 {
		b := someBrief(3, 4)
		b.Table.Rows = [][]table.Cell{{{Text: "wood, kg"}, {Text: text}}}
		return b.tableMM()
	}
	assert.InDelta(t, tableHigh, row("+1,743 (+1,475 to +2,011)")-row("+1,743"), 1e-9)
	assert.InDelta(t, 2, linesOf("aa b\u00a0c", 4), 0)
}
