package chart

import (
	"slices"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"

	aim "drystalk/sim/goal"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

// Odds draws the odds of the target against the number of dryers.
func Odds(a decide.Answer) (Chart, error) {
	p := blank(tongue.Say("dryers in the region (number)"))
	var v intervals
	var numbers []float64
	for _, r := range a.Plans {
		v.odds(float64(r.Dryers), r.Odds)
		numbers = append(numbers, float64(r.Dryers))
	}
	last := numbers[len(numbers)-1]
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = numbers[0]-0.5, last+0.5, 0, aboveAll
	for len(numbers) > 16 {
		numbers = everySecond(numbers)
	}
	p.X.Tick.Marker = ticks(numbers, whole)
	if err := v.againstTarget(p, a.Target); err != nil {
		return Chart{}, err
	}
	h := headed{title: words.HowOften(a.Goal), marks: oddsMarks(a.Target), upright: tongue.Sayf("seasons in which %s (%%)", so(a.Goal)), body: p}
	return h.chart("odds-by-dryers", words.DryersSentence(a)), nil
}

// Spending draws the odds of the target against what is spent.
func Spending(s spend.Answer, target float64, currency string) (Chart, error) {
	p := blank(tongue.Sayf("spent (%s)", currency))
	var v intervals
	for _, b := range append([]spend.Bought{s.Start}, s.Steps...) {
		v.odds(b.Spent.Units(), b.Odds)
	}
	top := max(1, s.Budget.Units())
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.03*top, 1.03*top, 0, aboveAll
	p.X.Tick.Marker = ticks(marks(0, top, niceStep(top)), words.BareMoney)
	if err := v.stepsAgainstTarget(p, target, top); err != nil {
		return Chart{}, err
	}
	alt := tongue.Sayf("%s: in %s of seasons with nothing bought.", words.HowOften(s.Goal), words.Odds(s.Start.Odds))
	if len(s.Steps) > 0 {
		alt += tongue.Sayf(" After the last step in %s.", words.Odds(s.Steps[len(s.Steps)-1].Odds))
	}
	h := headed{title: tongue.Sayf("%s as the list is bought", words.HowOften(s.Goal)), marks: stepMarks(target), upright: tongue.Sayf("seasons in which %s (%%)", so(s.Goal)), body: p}
	return h.chart("spending", alt), nil
}

// Budgets draws the odds of the target with nothing bought and with the list of each of several
// budgets, against the target.
func Budgets(each []spend.Answer, target float64, currency string) (Chart, error) {
	list := []named{{tongue.Say("nothing bought"), each[0].Start.Odds}}
	alt := tongue.Sayf("%s: in %s of seasons with nothing bought", words.HowOften(each[0].Goal), words.Odds(each[0].Start.Odds))
	for _, s := range each {
		last := words.LastBought(s)
		list = append(list, named{tongue.Sayf("%s: %s", words.Amount(s.Budget, currency), words.BoughtOrNot(s)), last.Odds})
		alt += tongue.Sayf(", in %s with %s", words.Odds(last.Odds), words.Amount(s.Budget, currency))
	}
	return againstNotch("budgets", alt+".", target, oddsOf{tongue.Sayf("%s with each budget", words.HowOften(each[0].Goal)), each[0].Goal, list})
}

// so says what seasons are counted of a goal that the title of a chart names.
func so(g aim.Goal) string {
	if g.ByMonth() {
		return tongue.Say("it is met")
	}
	return tongue.Say("that is so")
}

// odds adds the odds of something, per cent, at x.
func (v *intervals) odds(x float64, o trials.Odds) {
	v.XYs = append(v.XYs, plotter.XY{X: x, Y: 100 * o.Share})
	v.YErrors = append(v.YErrors, struct{ Low, High float64 }{100 * (o.Low - o.Share), 100 * (o.High - o.Share)})
}

// aboveAll is the top of an axis of per cent, with room above 100 for marks.
const aboveAll = 103

// held is the pen of odds that stay until something more is bought.
var held = pen{ink, 1.2, nil}

// steplike are the corners of a line that stays at each height until the next point, and the last
// until an end.
func steplike(points plotter.XYs, until float64) (out plotter.XYs) {
	for i, at := range points {
		next := max(until, at.X)
		if i+1 < len(points) {
			next = points[i+1].X
		}
		out = append(out, at, plotter.XY{X: next, Y: at.Y})
	}
	return out
}

// stepsAgainstTarget draws odds that stay until the next step, the last until an end, against the odds
// wanted. Their intervals are one area: steps lie so near to each other that ends of bars run together.
func (v *intervals) stepsAgainstTarget(p *plot.Plot, target, until float64) error {
	var low, high plotter.XYs
	for i, at := range v.XYs {
		low = append(low, plotter.XY{X: at.X, Y: at.Y + v.YErrors[i].Low})
		high = append(high, plotter.XY{X: at.X, Y: at.Y + v.YErrors[i].High})
	}
	back := steplike(low, until)
	slices.Reverse(back)
	if err := percentAxis(p); err != nil {
		return err
	}
	if err := area(p, append(steplike(high, until), back...), pale, pen{grey, 0.6, nil}); err != nil {
		return err
	}
	if err := line(p, level(p.X.Min, p.X.Max, 100*target), goal); err != nil {
		return err
	}
	if err := line(p, steplike(v.XYs, until), held); err != nil {
		return err
	}
	return dots(p, v.XYs, ink, stepRadius)
}

// stepRadius is that of the disc of a step, points.
const stepRadius = 2.4

// stepMarks say what the marks of odds of steps against a target are.
func stepMarks(target float64) []mark {
	return []mark{
		{both(stroke(held), glyph(disc(stepRadius))), tongue.Say("disc: a step bought, by share of trial seasons; line: until the next")},
		{patch(pale, pen{grey, 0.6, nil}), tongue.Say("pale: 95 % sure")},
		{stroke(goal), tongue.Sayf("dashed: target, %s", words.OfTen(target))},
	}
}

// percentAxis marks an axis upwards of per cent.
func percentAxis(p *plot.Plot) error {
	p.Y.Tick.Marker = ticks(everyFifth, whole)
	return rules(p, p.X.Min, p.X.Max, everyFifth[1:])
}

// oddsMarks say what the marks of odds against a target are.
func oddsMarks(target float64) []mark {
	return []mark{{standing(disc(3)), tongue.Say("disc: share of trial seasons; bar: 95 % sure")}, {stroke(goal), tongue.Sayf("dashed: target, %s", words.OfTen(target))}}
}

// againstTarget draws odds against the odds wanted.
func (v *intervals) againstTarget(p *plot.Plot, target float64) error {
	if err := percentAxis(p); err != nil {
		return err
	}
	if err := line(p, level(p.X.Min, p.X.Max, 100*target), goal); err != nil {
		return err
	}
	return v.add(p)
}
