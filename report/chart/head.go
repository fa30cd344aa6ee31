package chart

import (
	"image/color"
	"strings"

	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// drawing is what a chart draws: one plot, or several that belong together.
type drawing interface {
	Draw(c draw.Canvas)
}

// mark is one kind of mark in a chart: a sample of it, and what it means.
type mark struct {
	draws swatch
	says  string
}

// headed is a drawing under its title, what its marks mean, and what is drawn upwards. All of it is
// read from left to right above the drawing, so that no words lie among the marks.
type headed struct {
	title   string
	marks   []mark
	upright string // name and unit of the upright axis; "" where rows are named instead
	body    drawing
}

// The measures of what stands above a drawing, points.
const (
	titlePoints = 13
	wordPoints  = 10
	titleHigh   = 17
	wordHigh    = 14
	headGap     = 6  // above and below the drawing
	sampleWide  = 18 // of the space for a sample of a mark
	markGap     = 14 // between two marks in a line
)

// otherFont is how much wider letters may be than those of the charts' own font, where that is
// missing: DejaVu Sans is wider than Liberation Sans by as much, measured over the words of charts.
const otherFont = 1.15

// room returns how wide words may come out in so many points.
func room(words string, points float64) float64 { return otherFont * wide(words, points) }

// placed is a mark at its place under the title: points from the left, how far its words are from
// there, and the line.
type placed struct {
	mark
	left, indent float64
	line         int
}

// inLines parts words into lines that are no wider than so many points.
func inLines(words string, points, width float64) (lines []string) {
	for _, word := range tongue.Words(words) {
		last := len(lines) - 1
		if last >= 0 && room(lines[last]+" "+word, points) <= width {
			lines[last] += " " + word
		} else {
			lines = append(lines, word)
		}
	}
	return lines
}

// flow places marks in lines, one beside the other as far as there is room; words that are too long
// for a line go on in the next.
func flow(marks []mark, width float64) (out []placed, lines int) {
	left, line := 0.0, 0
	for _, m := range marks {
		indent := 0.0
		if m.draws != nil {
			indent = sampleWide + 4
		}
		wants := indent + room(m.says, wordPoints)
		if left > 0 && left+wants > width {
			left, line = 0, line+1
		}
		parts := inLines(m.says, wordPoints, width-indent)
		for i, words := range parts {
			at := placed{mark{m.draws, words}, left, indent, line + i}
			if i > 0 {
				at.draws = nil
			}
			out = append(out, at)
		}
		line += len(parts) - 1
		left += wants + markGap
	}
	if len(out) > 0 {
		lines = line + 1
	}
	return out, lines
}

// highOf returns how high the words are above a drawing so wide, points.
func (h *headed) highOf(width float64) float64 {
	_, lines := flow(h.marks, width)
	high := titleHigh*float64(len(inLines(h.title, titlePoints, width))) + wordHigh*float64(lines) + headGap
	if h.upright != "" {
		high += wordHigh
	}
	return high
}

// Draw draws the words and the drawing below them.
func (h *headed) Draw(c draw.Canvas) {
	width := (c.Max.X - c.Min.X).Points()
	below := c.Max.Y
	for _, line := range inLines(h.title, titlePoints, width) {
		write(c, line, ink, vg.Point{X: c.Min.X, Y: below - 13}, titlePoints)
		below -= titleHigh
	}
	marks, lines := flow(h.marks, width)
	for _, m := range marks {
		at := vg.Point{X: c.Min.X + vg.Length(m.left), Y: below - wordHigh*vg.Length(m.line) - 11}
		if m.draws != nil {
			m.draws(c, vg.Point{X: at.X, Y: at.Y + 3.5})
		}
		write(c, m.says, ink, vg.Point{X: at.X + vg.Points(m.indent), Y: at.Y}, wordPoints)
	}
	below -= wordHigh * vg.Length(lines)
	if h.upright != "" {
		write(c, tongue.Sayf("upwards: %s", h.upright), ink, vg.Point{X: c.Min.X, Y: below - 12}, wordPoints)
	}
	h.body.Draw(draw.Crop(c, 0, 0, 0, -vg.Length(h.highOf(width))))
}

// chart makes a chart of the usual height of it.
func (h *headed) chart(name, alt string) Chart { return Chart{name, alt, h, chartHeight} }

// rows makes a chart of it as high as so many rows, upon an axis.
func (h *headed) rows(name, alt string, n int) Chart {
	const margins, axis = 1.5 * margin, 40
	return Chart{name, alt, h, vg.Points(h.highOf(chartWidth.Points()-2*margin)+rowHigh*float64(n)+margins) + axis}
}

// rowHigh is how high a row of a chart of rows is, points: its words, its bar and what parts them.
const rowHigh = 27

// write writes words from a point on, in so many points.
func write(c draw.Canvas, words string, in color.Color, at vg.Point, points float64) {
	style := plot.New().Title.TextStyle
	style.Font.Size, style.Color, style.XAlign, style.YAlign = vg.Points(points), in, draw.XLeft, draw.YBottom
	c.FillText(style, at, words)
}

// cut returns words that are no wider than so many points, the middle left out where there is no room:
// names that begin alike end otherwise.
func cut(words string, width float64) string {
	letters := []rune(words)
	short := words
	for keep := len(letters) - 1; keep > 1 && room(short, wordPoints) > width; keep-- {
		last := keep / 2
		short = strings.TrimSpace(string(letters[:keep-last])) + "…" + strings.TrimSpace(string(letters[len(letters)-last:]))
	}
	return short
}
