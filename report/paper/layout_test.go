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
	assert.True(t, someBrief(3, 400).laidOut().Annexed)
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

// A figure stays on a line with its interval where the paper is wide enough; where it is not, the row is
// as high as both, and words that stay together do so in the reckoning too.
func TestRowsOfTwoLines(t *testing.T) {
	row := func(text string, columns int) float64 {
		b := someBrief(3, 4)
		b.Table.Head = append([]string{"what"}, strings.Split(strings.Repeat("today ", columns), " ")[:columns]...)
		cells := []table.Cell{{Text: "wood, kg"}}
		for range columns {
			cells = append(cells, table.Cell{Text: text})
		}
		b.Table.Rows = [][]table.Cell{cells}
		return b.tableMM()
	}
	long := "+1,743 (+1,475 to +2,011)"
	assert.InDelta(t, 0, row(long, 1)-row("+1,743", 1), 1e-9)
	assert.InDelta(t, tableHigh, row(long, 3)-row("+1,743", 3), 1e-9)
	odds := "95 % (83 to 99 %), none missed"
	assert.InDelta(t, 0, row(odds, 1)-row("95 %", 1), 1e-9)
	assert.InDelta(t, tableHigh, row(odds, 3)-row("95 %", 3), 1e-9)
	assert.InDelta(t, 2, linesOf("aa b\u00a0c", 4), 0)
	assert.Equal(t, "95\u00a0%\u00a0(83\u00a0to\u00a099\u00a0%), none\u00a0missed", whole("95 % (83 to 99 %), none missed"))
	assert.Equal(t, "95\u00a0% (83\u00a0to\u00a099\u00a0%)", broken("95 % (83 to 99 %)"))
}

// The table stands under the chart where it fits there; where it does not, passages come before it, and
// the first page is as full as they make it.
func TestPassagesFillTheFirstPage(t *testing.T) {
	b := someBrief(3, 4)
	b.About = nil
	for range 4 {
		b.Table.Rows = append(b.Table.Rows, []table.Cell{{Text: "wood, kg"}, {Text: "1"}})
	}
	assert.Zero(t, b.laidOut().Ahead)
	for range 22 {
		b.Table.Rows = append(b.Table.Rows, []table.Cell{{Text: "wood, kg"}, {Text: "1"}})
	}
	set := b.laidOut()
	assert.Positive(t, set.Ahead)
	f := b.flows(set)
	assert.Equal(t, 2, f.pages)
	assert.Less(t, f.free, mostFree)
	set.Ahead = 0
	assert.Greater(t, b.flows(set).free, mostFree)
}

// How a paper was made takes room on its pages too.
func TestHowAPaperWasMadeTakesRoom(t *testing.T) {
	b := someBrief(3, 4)
	set := b.laidOut()
	before := b.flows(set)
	b.Made += strings.Repeat(" One word more of how it was made.", 20)
	after := b.flows(set)
	assert.Equal(t, 2, before.pages)
	assert.Equal(t, 2, after.pages)
	assert.Greater(t, after.used, before.used+5*lineHigh)
}

// A paragraph is parted between pages, with at least three lines on each; a heading goes with what
// stands under it, and what does not fit at all is on no page of two.
func TestFlow(t *testing.T) {
	f := flow{pages: 1, line: 5, used: pageHigh - 22}
	f.paragraph(0, 7)
	assert.Equal(t, 2, f.pages)
	assert.InDelta(t, 2, f.free, 1e-9)
	assert.InDelta(t, 15, f.used, 2)
	f = flow{pages: 1, line: 5, used: pageHigh - 22}
	f.paragraph(7, 5)
	assert.InDelta(t, 22, f.free, 1e-9)
	f = flow{pages: 1, line: 5, used: 10}
	f.whole(pageHigh + 1)
	assert.Greater(t, f.pages, 2)
}

// The widest table of two plans of the demo just fits with its intervals on their lines; millions do not.
func TestIntervalsStayWithTheirFigures(t *testing.T) {
	with := func(difference string) func(string) string {
		return figure(table.Table{Left: 1, Head: []string{"", "today", "with 2 dryers", "difference (95 % sure)"}, Rows: [][]table.Cell{
			{{Text: "worst month, August, met in"}, {Text: "0 % (0 to 9 %)"}, {Text: "0 % (0 to 9 %)"}, {}},
			{{Text: "good stalks delivered, stalks"}, {Text: "725,475"}, {Text: "960,512"}, {Text: difference}},
		}})
	}
	demo, millions := "+235,037 (+214,965 to +255,109)", "+2,235,037 (+2,214,965 to +2,255,109)"
	assert.Equal(t, unbroken(demo), with(demo)(demo))
	assert.Equal(t, broken(millions), with(millions)(millions))
}
