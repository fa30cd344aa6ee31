package chart

import (
	"fmt"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/report/words"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// Ways draws the odds of the target as one change of working comes on top of the other.
func Ways(a ways.Answer) (Chart, error) {
	p := blank(words.HowOften(a.Goal)+" as work is changed", "seasons in which "+so(a.Goal)+" (%)", "")
	names, all := []string{"as now"}, []trials.Odds{a.Now.Odds}
	for _, w := range a.Together {
		names, all = append(names, "and "+words.WayAt(w.Changes[len(w.Changes)-1])), append(all, w.Odds)
	}
	n := len(all)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, -0.6, float64(n)-0.1
	p.X.Tick.Marker = ticks(everyFifth, whole)
	if err := line(p, upright(100*a.Target, p.Y.Min, p.Y.Max), goal); err != nil {
		return Chart{}, err
	}
	for i, o := range all {
		y := row(i, n)
		if err := area(p, box(0, 100*o.Share, y, 0.1), pale, pen{}); err != nil {
			return Chart{}, err
		}
		if err := (span{100 * o.Low, 100 * o.Share, 100 * o.High}).across(p, y, pen{ink, 1.4, nil}, 2.6); err != nil {
			return Chart{}, err
		}
		label(p, 0, y, names[i], ink, vg.Points(2), vg.Points(12), draw.XLeft)
	}
	label(p, 100*a.Target, p.Y.Min, "target: "+words.OfTen(a.Target)+" ", rust, 0, vg.Points(8), draw.XRight)
	unmarked(p)
	alt := fmt.Sprintf("%s: in %s of seasons as now", words.HowOften(a.Goal), words.Odds(a.Now.Odds))
	for i, o := range all[1:] {
		alt += fmt.Sprintf(", %s in %s", names[i+1], words.Odds(o))
	}
	return Chart{"ways", alt + ".", p, rowsHigh(1.3, n)}, nil
}
