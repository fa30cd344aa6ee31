package chart

import (
	"fmt"
	"image/color"
	"slices"
	"strings"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Losses draws what became of stalks that were cut and not delivered.
func Losses(r decide.PlanResult) (Chart, error) {
	p := blank(tongue.Say("share of the stalks cut or in stock (%)"))
	parts := append([]words.Named{{Name: tongue.Say("delivered"), Mean: r.Flow.Delivered}}, words.Losses(r.Flow)...)
	all := r.Flow.Of(sim.Cut).Mean + r.Flow.Of(sim.Opening).Mean
	if !(all > 0) {
		all = 1
	}
	values := make(plotter.Values, len(parts)) // from below
	names := make([]string, len(parts))
	for i, part := range parts {
		k := len(parts) - 1 - i
		values[k], names[k] = 100*part.Mean.Mean/all, part.Name
	}
	if err := bars(p, values, names, barStyle{13, grey}); err != nil {
		return Chart{}, err
	}
	longest := 0.0
	for _, name := range names {
		longest = max(longest, wide(name, wordPoints))
	}
	p.Y.Padding, p.X.Max = vg.Points(4+(otherFont-1)*longest), 135 // room for words behind the longest bar
	for i, v := range values {
		part := parts[len(parts)-1-i]
		low, high := 100*part.Mean.Low/all, 100*part.Mean.High/all
		if err := line(p, capped(low, high, float64(i), 0.3), sure); err != nil {
			return Chart{}, err
		}
		label(p, max(v, high), float64(i), fmt.Sprintf("%s: %s", words.Percent(v/100), words.Stalks(part.Mean)), ink, vg.Points(6), 0, draw.XLeft)
	}
	alt := tongue.Sayf("Of %s stalks cut or in stock in an average season %s are delivered.", words.Whole(all), words.Stalks(r.Flow.Delivered))
	h := headed{title: tongue.Sayf("From the cut to the buyer with %s", words.Dryers(r.Dryers)), body: p, marks: averageMarks(patch(grey, pen{}), tongue.Say("bar: what became of stalks"))}
	return h.chart("losses", alt), nil
}

// sure is the pen of where a mean lies, 95 % sure.
var sure = pen{ink, 1.2, nil}

// averageMarks say what bars of average seasons are, and that single seasons differ more.
func averageMarks(bar swatch, says string) []mark {
	return []mark{{bar, says}, {stroke(sure), tongue.Say("line: the average season, 95 % sure; single seasons differ more")}}
}

// Hours draws what the dryers of a plan did in the hours of their shifts, as shares of an
// average season with the interval of the mean.
func Hours(p decide.PlanResult) (Chart, error) {
	spent, all := shiftHours(p.Flow)
	c := rowed(tongue.Say("share of the shift hours (%)"), len(spent))
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
		high := 100 * s.Hours.High / all
		if err := line(c, level(100*s.Hours.Low/all, high, y), pen{ink, 1.6, nil}); err != nil {
			return Chart{}, err
		}
		said := fmt.Sprintf("%s: %s (%s h)", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all), words.Whole(s.Hours.Mean))
		nameRow(c, 0, y, said)
		if i > 0 {
			alt += ", "
		}
		alt += fmt.Sprintf("%s %s", words.FigureRow(s.On), words.Percent(s.Hours.Mean/all))
		top = max(top, high)
	}
	c.X.Min, c.X.Max = 0, max(50, 1.05*top)
	c.X.Tick.Marker = ticks([]float64{0, 10, 20, 30, 40, 50, 60, 80, 100}, whole)
	says := slices.Insert(averageMarks(stroke(barOf(grey)), tongue.Say("grey bar: they worked")), 1, mark{stroke(barOf(pale)), tongue.Say("pale bar: they stood")})
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

// barStyle is how high the bars of shares are, in points, and their colour.
type barStyle struct {
	high   float64
	colour color.Color
}

// bars draws shares of a whole, per cent, as bars to the right, with their names, from below.
func bars(p *plot.Plot, shares plotter.Values, names []string, style barStyle) error {
	b, err := plotter.NewBarChart(shares, vg.Points(style.high))
	if err != nil {
		return err
	}
	b.Horizontal, b.Color, b.LineStyle.Width = true, style.colour, 0
	p.Add(b)
	p.NominalY(names...)
	p.Y.Tick.Length, p.Y.LineStyle.Width = 0, 0
	p.X.Min, p.X.Max = 0, 100
	p.X.Tick.Marker = ticks(everyFifth, whole)
	return nil
}
