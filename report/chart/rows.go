package chart

import (
	"image/color"

	"drystalk/sim/trials"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// rowsWide is how wide the words above a row may be, points.
const rowsWide = 480

// nameRow writes what a row is above its bar, from a value on.
func nameRow(p *plot.Plot, from, y float64, words string) {
	label(p, from, y, cut(words, rowsWide), ink, vg.Points(2), vg.Points(11), draw.XLeft)
}

// rowed returns an empty plot for so many rows.
func rowed(x string, n int) *plot.Plot {
	p := blank(x)
	p.Y.Min, p.Y.Max = -0.4, float64(n)-0.1
	unmarked(p)
	return p
}

// named are odds with what they are of.
type named struct {
	of   string
	odds trials.Odds
}

// oddsRows are odds in rows, each a bar from nothing to the share, a disc at it and its interval.
func oddsRows(x string, list []named) (*plot.Plot, error) {
	n := len(list)
	p := rowed(x, n)
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = ticks(everyFifth, whole)
	for i, o := range list {
		s, y := span{100 * o.odds.Low, 100 * o.odds.Share, 100 * o.odds.High}, row(i, n)
		if err := barred(p, s, y, pale); err != nil {
			return nil, err
		}
		nameRow(p, 0, y, o.of)
	}
	return p, nil
}

// barOf is the pen of the bar of a row.
func barOf(fill color.Color) pen { return pen{fill, 6, nil} }

// barred draws a value with its interval at height y on a bar from nothing.
func barred(p *plot.Plot, s span, y float64, fill color.Color) error {
	if err := line(p, level(0, s.value, y), barOf(fill)); err != nil {
		return err
	}
	return s.across(p, y, pen{ink, 1.4, nil}, 2.6)
}

// notch marks a value of a row that is asked for: a short upright line, which no words cross.
func notch(p *plot.Plot, x, y float64) error { return line(p, upright(x, y-0.24, y+0.24), wanted) }

// rowMarks say what the marks of rows of odds are.
func rowMarks(of string) []mark {
	return []mark{{both(stroke(barOf(pale)), reaching), tongue.Sayf("bar to the disc: %s; line: 95 %% sure", of)}}
}
