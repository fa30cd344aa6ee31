// Package words puts figures and answers into words: numbers, shares, intervals and money, and
// the sentences of every answer. Tables and charts take their words from here.
package words

import (
	"math"
	"strconv"
	"strings"

	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Grouped writes a whole number with thousands apart.
func Grouped(n int) string { return tongue.Grouped(n) }

// Number writes a number with thousands apart and no more decimals than it has.
func Number(x float64) string {
	if x == math.Trunc(x) && math.Abs(x) < 1e15 {
		return Grouped(int(x))
	}
	return tongue.Decimal(strconv.FormatFloat(x, 'g', -1, 64))
}

// Whole writes the nearest whole number with thousands apart.
func Whole(x float64) string { return Grouped(Round(x)) }

// Round returns the nearest whole number.
func Round(x float64) int { return int(math.Round(x)) }

// Percent writes a share as a per cent without saying 0 or 100 of what is neither.
func Percent(x float64) string {
	switch p := 100 * x; {
	case x > 0 && p < 0.5:
		return tongue.Say("under 1 %")
	case x < 1 && p >= 99.5:
		return tongue.Say("over 99 %")
	default:
		return strconv.Itoa(Round(p)) + " %"
	}
}

// Odds writes a share with its interval: "92 % (90 to 94 %)".
func Odds(o trials.Odds) string {
	return tongue.Sayf("%s (%s to %s)", Percent(o.Share), bare(o.Low), Percent(o.High))
}

// bare is percent without its sign where that is a number.
func bare(x float64) string { return strings.TrimSuffix(Percent(x), " %") }

// OfTen says odds as a lay reader counts: "9 seasons of 10".
func OfTen(target float64) string {
	for _, of := range []int{10, 20, 100} {
		if n := target * float64(of); math.Abs(n-math.Round(n)) < 1e-9 {
			return tongue.Sayf("%d seasons of %d", Round(n), of)
		}
	}
	return tongue.Sayf("%s of seasons", Percent(target))
}

// reach is whether odds reach a target, as far as their interval tells.
type reach int

const (
	missed reach = iota
	untold
	reached
)

// sureOfOne is how sure one plan is said to reach a target or to miss it: about as sure as a look of dryers
// must be (decide.Proof), so that no answer calls a plan enough of which another says that it is too close to
// tell, and that an interval whose end is the target when rounded proves nothing.
const sureOfOne = 0.9925

// reaching tells whether odds reach a target.
func reaching(o trials.Odds, target float64) reach {
	switch {
	case 1-trials.LowerBound(o.Seasons-o.Met, o.Seasons, sureOfOne) < target:
		return missed
	case trials.LowerBound(o.Met, o.Seasons, sureOfOne) < target:
		return untold
	}
	return reached
}

// Figure writes a number with three digits.
func Figure(x float64) string { return tongue.Decimal(strconv.FormatFloat(x, 'g', 3, 64)) }

// WholeOrFigure writes large numbers whole and small ones with three digits.
func WholeOrFigure(x float64) string {
	if math.Abs(x) >= 1000 {
		return Whole(x)
	}
	return Figure(x)
}

// Quantity writes a number with three digits, and its unit if it has one.
func Quantity(x float64, unit string) string {
	return strings.TrimSpace(Figure(x) + " " + unit)
}

// Named is a mean with what it is called in text.
type Named struct {
	Name   string
	Mean   trials.Mean
	Spread trials.Band // between single seasons, of what pictures show; else of no season
}

// Stalks writes a mean number of stalks.
func Stalks(m trials.Mean) string { return Whole(m.Mean) }

// Between writes the 95 % interval of a mean in whole numbers: "12,300 to 12,800".
func Between(m trials.Mean) string {
	return tongue.Sayf("%s to %s", Whole(m.Low), Whole(m.High))
}

// signed writes a number of stalks or the like with its sign.
func signed(x float64) string {
	n := Round(x)
	if n > 0 {
		return "+" + Grouped(n)
	}
	return Grouped(n)
}

// More writes a difference with its sign and its interval: "+1,200 (+900 to +1,500)".
func More(m trials.Mean) string {
	return tongue.Sayf("%s (%s to %s)", signed(m.Mean), signed(m.Low), signed(m.High))
}

// Points writes a difference of two shares in percentage points, with its interval.
func Points(m trials.Mean) string {
	return tongue.Sayf("%s (%s to %s)", point(m.Mean), point(m.Low), point(m.High))
}

// point writes a difference of shares in whole percentage points with its sign; what is less than nothing is
// never written as nothing.
func point(share float64) string {
	points := 100 * share
	if n := Round(points); n != 0 || points >= 0 {
		return tongue.Sayf("%+d", n)
	}
	return tongue.Sayf("%.1f", min(-0.1, points))
}
