package chart

import (
	"fmt"
	"slices"
	"strings"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"
)

// seasons is the pen of how single seasons differ.
var seasons = pen{ink, 1.2, nil}

// averageMarks say what bars of average seasons are, and how single seasons differ.
func averageMarks(bar swatch, says string) []mark {
	return []mark{{bar, says}, {fenced(seasons), tongue.Say("line: 5 to 95 % of single seasons")}}
}

// Hours draws what the dryers of a plan did in the hours of their shifts, as shares of an
// average season, and how single seasons differ.
func Hours(p decide.PlanResult) (Chart, error) {
	spent, all := shiftHours(p.Flow)
	c := rowed(tongue.Say("share of the shift hours of an average season (%)"), len(spent))
	top := 0.0
	alt := tongue.Say("Shares of the shift hours of the dryers: ")
	for i, s := range spent {
		y := row(i, len(spent))
		fill := grey
		if words.Stands(s.On) || s.On == sim.DryerNotReady.Figure() {
			fill = pale
		}
		if err := line(c, level(0, 100*s.Hours.Mean/all, y), barOf(fill)); err != nil {
			return Chart{}, err
		}
		spread := p.Flow.Spread.Figures[s.On]
		high := 100 * spread.P95 / all
		if high > 0 {
			if err := line(c, capped(100*spread.P5/all, high, y, 0.13), seasons); err != nil {
				return Chart{}, err
			}
		}
		said := fmt.Sprintf("%s: %s (%s h)", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all), words.Whole(s.Hours.Mean))
		nameRow(c, 0, y, said)
		if i > 0 {
			alt += ", "
		}
		alt += fmt.Sprintf("%s %s", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all))
		top = max(top, high, 100*s.Hours.Mean/all)
	}
	c.X.Min, c.X.Max = 0, max(50, 1.05*top)
	c.X.Tick.Marker = ticks([]float64{0, 10, 20, 30, 40, 50, 60, 80, 100}, whole)
	says := slices.Insert(averageMarks(stroke(barOf(grey)), tongue.Say("grey bar: they worked, in the average season")), 1, mark{stroke(barOf(pale)), tongue.Say("pale bar: they stood")})
	h := headed{title: tongue.Sayf("What %s did in the hours of the shifts", words.Dryers(p.Dryers)), body: c, marks: says}
	return h.rows("dryer-hours", alt+".", len(spent)), nil
}

// shiftHours returns what the dryers did with more than 1 in 2,000 of their shift hours, and
// all of these hours, or 1 where there are none.
func shiftHours(f decide.Flow) (spent []decide.Spent, allH float64) {
	for _, s := range f.Shift() {
		allH += s.Hours.Mean
	}
	if !(allH > 0) {
		allH = 1
	}
	for _, s := range f.Shift() {
		if s.Hours.Mean > 0.0005*allH {
			spent = append(spent, s)
		}
	}
	return spent, allH
}

// mostBars is how many bars the chart of what is short has at most.
const mostBars = 9

// Short draws what share of missed months each single thing would have met that may be advised.
func Short(s decide.Shortage) (Chart, error) {
	title, of, along := tongue.Say("What was short when a month was missed"), tongue.Say("of the missed months, those that it would have met"), tongue.Say("missed months that it would have met (%)")
	if s.Whole {
		title, of, along = tongue.Say("What was short when the target was not reached"), tongue.Say("of such seasons, those that would have reached it"), tongue.Say("such seasons that would have reached it (%)")
	}
	single := words.Advised(s.Single)
	single = single[:min(mostBars, len(single))]
	var list []named
	for _, r := range single {
		list = append(list, named{words.Things(r), r.Met})
	}
	p, err := oddsRows(along, list)
	if err != nil {
		return Chart{}, err
	}
	h := headed{title: title, body: p, marks: rowMarks(of)}
	alt := tongue.Say("What would have met missed months. ") + strings.Join(words.ShortParagraph(s), "")
	return h.rows("what-was-short", alt, len(list)), nil
}
