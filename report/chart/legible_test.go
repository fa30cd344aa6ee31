package chart

import (
	"fmt"
	"html"
	"maps"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// rect is a rectangle of a picture, points from its lower left corner.
type rect struct{ left, low, right, high float64 }

func (r rect) meets(o rect) bool {
	return r.left < o.right && o.left < r.right && r.low < o.high && o.low < r.high
}

// wrote is a text of a picture.
type wrote struct {
	said   string
	at     rect // as wide as in the widest font that may stand in
	own    rect // as wide as in the font of the charts
	inside bool // of a mark: the number of a site on a map
}

// The parts of a picture, as the drawing library writes them; other drawing libraries may write others.
var (
	svgSize = regexp.MustCompile(`viewBox="0 0 ([0-9.]+) ([0-9.]+)"`)
	svgText = regexp.MustCompile(`<text x="(-?[0-9.]+)" y="(-?[0-9.]+)" transform="scale\(1, -1\)"[^>]*?font-size:([0-9.]+)px([^"]*)">([^<]*)</text>`)
	svgPath = regexp.MustCompile(`<path d="([^"]*)" style="([^"]*)"`)
	svgPen  = regexp.MustCompile(`stroke-width:([0-9.]+)`)
	svgHex  = regexp.MustCompile(`(?:fill|stroke):#([0-9A-F]{6})`)
)

// number reads a number of a picture.
func number(t *testing.T, s string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return x
}

// texts returns what is written in a picture: letters reach from about a fifth of their height below
// their line to three quarters above it (Liberation Sans: descent 0.21, capitals 0.73).
func texts(t *testing.T, svg string) (out []wrote) {
	t.Helper()
	for _, m := range svgText.FindAllStringSubmatch(svg, -1) {
		x, y, size, said := number(t, m[1]), -number(t, m[2]), number(t, m[3]), html.UnescapeString(m[5])
		own := rect{x, y - 0.21*size, x + wide(said, size), y + 0.73*size}
		at := own
		at.right = x + room(said, size)
		out = append(out, wrote{said, at, own, size == numberPoints})
	}
	require.Equal(t, strings.Count(svg, "<text"), len(out), "every text is read")
	return out
}

// onPaper are the charts that papers of two pages show.
var onPaper = map[string]bool{"odds-by-dryers": true, "spending": true, "purchase-by-year": true, "months-of-both": true, "promise": true}

// Whatever font stands in for that of the charts, no words run into other words or out of the picture,
// and none lie on a line or at the edge of an area: of usual answers and of those at the edges, in
// reports and on the paper of two pages.
func TestWordsAreLegible(t *testing.T) {
	require.Greater(t, len(allPictures()), len(pictures))
	for of, draw := range allPictures() {
		c, err := draw()
		require.NoError(t, err, of)
		usual, err := c.Encode("svg")
		require.NoError(t, err, of)
		legible(t, of, string(usual))
		if onPaper[c.Name] {
			printed, _, _, err := c.ForPaper(66)
			require.NoError(t, err, of)
			legible(t, of+", on paper", string(printed))
		}
	}
}

// legible checks the words of a picture.
func legible(t *testing.T, of, svg string) {
	size := svgSize.FindStringSubmatch(svg)
	require.Len(t, size, 3, of)
	page := rect{0, 0, number(t, size[1]), number(t, size[2])}
	all, lines := texts(t, svg), strokes(t, svg)
	require.NotEmpty(t, all, of)
	require.NotEmpty(t, lines, of)
	for i, w := range all {
		assert.True(t, w.at.left >= page.left && w.at.right <= page.right && w.at.low >= page.low && w.at.high <= page.high, "%s: %q leaves the picture: %v of %v", of, w.said, w.at, page)
		for _, o := range all[:i] {
			assert.False(t, w.at.meets(o.at), "%s: %q runs into %q", of, w.said, o.said)
		}
		if !w.inside {
			for _, s := range lines {
				assert.False(t, s.meets(w.own), "%s: %q lies on a mark, %v on %v", of, w.said, w.own, s)
			}
		}
	}
}

// strokes returns where lines of a picture are, upright or level as they are; oblique lines are
// parted into short pieces.
func strokes(t *testing.T, svg string) (out []rect) {
	for _, m := range svgPath.FindAllStringSubmatch(svg, -1) {
		if strings.Contains(m[2], "fill:#FFFFFF") || strings.ContainsAny(m[1], "AQC") {
			continue // the ground, and discs
		}
		half := 0.0
		if at := svgPen.FindStringSubmatch(m[2]); at != nil {
			half = number(t, at[1]) / 2
		}
		var points [][2]float64
		for _, p := range strings.FieldsFunc(m[1], func(r rune) bool { return strings.ContainsRune("MLZ", r) }) {
			x, y, both := strings.Cut(p, ",")
			require.True(t, both, p)
			points = append(points, [2]float64{number(t, x), number(t, y)})
		}
		for i := 1; i < len(points); i++ {
			out = append(out, pieces(points[i-1], points[i], half)...)
		}
	}
	return out
}

// pieces are rectangles about a line.
func pieces(a, b [2]float64, half float64) (out []rect) {
	n := 1
	if a[0] != b[0] && a[1] != b[1] {
		n = 20
	}
	at := func(k, i int) float64 { return a[i] + (b[i]-a[i])*float64(k)/float64(n) }
	for k := range n {
		out = append(out, rect{min(at(k, 0), at(k+1, 0)) - half, min(at(k, 1), at(k+1, 1)) - half, max(at(k, 0), at(k+1, 0)) + half, max(at(k, 1), at(k+1, 1)) + half})
	}
	return out
}

// Every chart says in words what it is and what its marks mean, and names what is drawn upwards or
// has it named in the drawing.
func TestMarksAreExplained(t *testing.T) {
	require.NotEmpty(t, pictures)
	for of, draw := range allPictures() {
		c, err := draw()
		require.NoError(t, err, of)
		assert.NotEmpty(t, c.plot.title, of)
		require.NotEmpty(t, c.plot.marks, of)
		svg, err := c.Encode("svg")
		require.NoError(t, err, of)
		var said []string
		for _, w := range texts(t, string(svg)) {
			said = append(said, w.said)
		}
		all := strings.Join(said, " ")
		assert.Contains(t, all, c.plot.title, of)
		for _, m := range c.plot.marks {
			assert.Greater(t, len(m.says), 3, of)
			assert.Contains(t, all, m.says, of)
		}
		assert.Contains(t, all, c.plot.upright, of)
	}
}

// leastApart is how far the lightness of two colours of one chart is apart at least, so that they are
// told apart in grey print and by those who see no colours. From memory, no source: a difference of 1 is
// just seen side by side; charts leave more than ten times as much.
const leastApart = 10

// Colours of one chart differ in lightness, also as seen with the three kinds of colour blindness.
func TestColoursDifferInLightness(t *testing.T) {
	charts := allPictures()
	require.NotEmpty(t, charts)
	for of, draw := range charts {
		c, err := draw()
		require.NoError(t, err, of)
		svg, err := c.Encode("svg")
		require.NoError(t, err, of)
		used := map[string]bool{}
		for _, m := range svgHex.FindAllStringSubmatch(string(svg), -1) {
			used[m[1]] = true
		}
		delete(used, "FFFFFF")
		delete(used, "000000") // the numbers on axes
		list := slices.Sorted(maps.Keys(used))
		require.NotEmpty(t, list, of)
		for i, a := range list {
			for _, b := range list[:i] {
				for _, s := range sights {
					apart := s.lightness(a) - s.lightness(b)
					assert.GreaterOrEqual(t, max(apart, -apart), float64(leastApart), "%s: %s and %s with %s", of, a, b, s.name)
				}
			}
		}
	}
}

// Lines and words stand out from the paper: WCAG 2.1, 1.4.11, asks for a contrast of 3 of what is drawn,
// and 1.4.3 for 4.5 of words.
func TestMarksStandOut(t *testing.T) {
	for colour, least := range map[string]float64{"16323F": 4.5, "B04A12": 4.5, "7D939C": 3} {
		assert.GreaterOrEqual(t, 1.05/(full.luminance(colour)+0.05), least, colour)
	}
	for c, hex := range map[fmt.Stringer]string{shown{ink}: "16323F", shown{rust}: "B04A12", shown{slate}: "7D939C"} {
		assert.Equal(t, hex, c.String())
	}
}
