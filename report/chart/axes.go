package chart

import (
	"fmt"
	"math"
	"strconv"
	"time"

	"gonum.org/v1/plot"

	"drystalk/report/words"
	"drystalk/tongue"
)

// ticks marks values with words.
func ticks(at []float64, word func(float64) string) plot.ConstantTicks {
	t := make(plot.ConstantTicks, len(at))
	for i, x := range at {
		t[i] = plot.Tick{Value: x, Label: word(x)}
	}
	return t
}

// whole writes a value without decimals.
func whole(x float64) string { return fmt.Sprint(words.Round(x)) }

// everyFifth are the marks of shares of a whole, per cent.
var everyFifth = []float64{0, 20, 40, 60, 80, 100}

// niceStep returns 1, 2 or 5 times a power of ten, for about five marks, at least 1.
func niceStep(top float64) float64 { return max(1, fineStep(top)) }

// fineStep returns 1, 2 or 5 times a power of ten, for about five marks.
func fineStep(top float64) float64 { return stepOf(top, 6) }

// stepOf returns the least of 1, 2 or 5 times a power of ten of which there are no more than so many
// up to top.
func stepOf(top, most float64) float64 {
	if !(top > 0) {
		return 1
	}
	base := math.Pow(10, math.Floor(math.Log10(top/most)))
	for _, m := range []float64{1, 2, 5} {
		if top/(m*base) <= most {
			return m * base
		}
	}
	return 10 * base
}

// figure writes a value with as many decimals as it has.
func figure(x float64) string { return tongue.Decimal(strconv.FormatFloat(x, 'g', 4, 64)) }

// marks returns the multiples of a step from low to high.
func marks(low, high, step float64) (at []float64) {
	for k := int(math.Ceil(low / step)); float64(k)*step <= high; k++ {
		at = append(at, float64(k)*step)
	}
	return at
}

// everySecond leaves out every second mark.
func everySecond(x []float64) []float64 {
	var out []float64
	for i := 0; i < len(x); i += 2 {
		out = append(out, x[i])
	}
	return out
}

// unmarked leaves the axis of y without line and marks: its rows are named inside the plot.
func unmarked(p *plot.Plot) {
	p.Y.Tick.Marker = plot.ConstantTicks{}
	p.Y.LineStyle.Width = 0
}

// row is the height of the i-th of n rows, the first on top.
func row(i, n int) float64 { return float64(n - 1 - i) }

// Days are days of a season, both ends included; Date returns the month and the day of the month of
// each.
type Days struct {
	From, To int
	Date     func(day int) (time.Month, int)
}

// named writes a day: "1 Jul".
func (w Days) named(day int) string { return words.Date(w.Date(day)) }

// manyDays is from how many days on an axis marks the first days of months.
const manyDays = 75

// someDays returns about eight days to be marked on an axis: the first days of months where there are
// many days.
func (w Days) someDays() []float64 {
	var at []float64
	if w.To-w.From >= manyDays {
		for day := w.From; day <= w.To; day++ {
			if _, first := w.Date(day); first == 1 {
				at = append(at, float64(day))
			}
		}
		for len(at) > 12 {
			at = everySecond(at)
		}
		return at
	}
	for step, i := max(1, (w.To-w.From)/7), w.From; i <= w.To; i += step {
		at = append(at, float64(i))
	}
	return at
}

// axes are the days, and values up to top with some room above them.
func (w Days) axes(p *plot.Plot, top, room float64) {
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = float64(w.From)-0.5, float64(w.To)+0.5, 0, room*top
	p.X.Tick.Marker = ticks(w.someDays(), func(x float64) string { return w.named(words.Round(x)) })
	p.Y.Tick.Marker = ticks(marks(0, top, fineStep(top)), figure)
}

// nothing marks an axis of y where all is 0.
func nothing(p *plot.Plot) { p.Y.Tick.Marker = ticks([]float64{0}, whole) }
