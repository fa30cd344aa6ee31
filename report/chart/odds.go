package chart

import (
	"fmt"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/decide"
	aim "drystalk/sim/goal"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

// Odds draws the odds of the target against the number of dryers.
func Odds(a decide.Answer) (Chart, error) {
	p := blank(words.HowOften(a.Goal), "dryers in the region (number)", "seasons in which "+so(a.Goal)+" (%)")
	var v intervals
	var numbers []float64
	for _, r := range a.Plans {
		v.odds(float64(r.Dryers), r.Odds)
		numbers = append(numbers, float64(r.Dryers))
	}
	last := numbers[len(numbers)-1]
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.5, last+0.5, 0, withKey
	for len(numbers) > 16 {
		numbers = everySecond(numbers)
	}
	p.X.Tick.Marker = ticks(numbers, whole)
	if err := v.againstTarget(p, a.Target); err != nil {
		return Chart{}, err
	}
	alt := words.DryersSentence(a)
	return Chart{"odds-by-dryers", alt, p, chartHeight}, nil
}

// Spending draws the odds of the target against what is spent.
func Spending(s spend.Answer, target float64, currency string) (Chart, error) {
	p := blank(words.HowOften(s.Goal)+" as the list is bought", "spent ("+currency+")", "seasons in which "+so(s.Goal)+" (%)")
	var v intervals
	for _, b := range append([]spend.Bought{s.Start}, s.Steps...) {
		v.odds(b.Spent.Units(), b.Odds)
	}
	top := max(1, s.Budget.Units())
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.03*top, 1.03*top, 0, withKey
	p.X.Tick.Marker = ticks(marks(0, top, niceStep(top)), words.BareMoney)
	if err := v.againstTarget(p, target); err != nil {
		return Chart{}, err
	}
	alt := fmt.Sprintf("%s: in %s of seasons with nothing bought.", words.HowOften(s.Goal), words.Odds(s.Start.Odds))
	if len(s.Steps) > 0 {
		alt += fmt.Sprintf(" After the last step in %s.", words.Odds(s.Steps[len(s.Steps)-1].Odds))
	}
	return Chart{"spending", alt, p, chartHeight}, nil
}

// so says what seasons are counted of a goal that the title of a chart names.
func so(g aim.Goal) string {
	if g.ByMonth() {
		return "it is met"
	}
	return "that is so"
}

// odds adds the odds of something, per cent, at x.
func (v *intervals) odds(x float64, o trials.Odds) {
	v.XYs = append(v.XYs, plotter.XY{X: x, Y: 100 * o.Share})
	v.YErrors = append(v.YErrors, struct{ Low, High float64 }{100 * (o.Low - o.Share), 100 * (o.High - o.Share)})
}

// withKey is the top of an axis of per cent with room above 100 for words on the marks.
const withKey = 119

// againstTarget draws odds, joined by a line, against the odds wanted, and says above them what the
// marks are.
func (v *intervals) againstTarget(p *plot.Plot, target float64) error {
	p.Y.Tick.Marker = ticks(everyFifth, whole)
	if err := rules(p, p.X.Min, p.X.Max, everyFifth[1:]); err != nil {
		return err
	}
	if err := line(p, level(p.X.Min, p.X.Max, 100*target), goal); err != nil {
		return err
	}
	if err := line(p, v.XYs, pen{ink, 0.8, nil}); err != nil {
		return err
	}
	label(p, p.X.Min, 111, " dashed: target, "+words.OfTen(target), rust, 0, 0, draw.XLeft)
	label(p, p.X.Max, 111, "disc: share; bar: 95 % sure ", ink, 0, 0, draw.XRight)
	return v.add(p)
}
