package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// Measured lists what a log tells of each parameter, beside what is documented.
func Measured(tells []measured.Estimate) Table {
	t := Table{Title: tongue.Say("What the log tells (95 % intervals)"), Head: []string{tongue.Say("parameter"), tongue.Say("unit"), tongue.Say("the log"), tongue.Say("documented"), tongue.Say("for a scenario"), tongue.Say("carried"), tongue.Say("why")}, Left: 2}
	for _, e := range tells {
		said, carried := text(tongue.Say("open")), tongue.Say("no")
		if !e.Open() {
			said = cell(tongue.Sayf("%s (%s to %s)", words.Figure(e.Value), words.Figure(e.Low), words.Figure(e.High)), Real, e.Unit, [3]float64{e.Value, e.Low, e.High})
		}
		if e.Carried {
			carried = tongue.Say("yes")
		}
		t.Rows = append(t.Rows, []Cell{text(e.Name), text(e.Unit), said, triangle(e.Documented, e.Unit), triangle(e.Range, e.Unit), text(carried), text(e.Why)})
	}
	return t
}

// MeasuredOutput lists what a tally of one season tells, beside the wider range of any season.
func MeasuredOutput(f measured.OutputFit) Table {
	t := Measured(f.Estimates)
	t.Title = tongue.Say("What the tally tells (the tally: 95 % interval of this season)")
	t.Head[2] = tongue.Say("the tally")
	for i, e := range f.Estimates {
		x := [3]float64{f.PerH / f.StatedPerH, f.LowPerH / f.StatedPerH, f.HighPerH / f.StatedPerH}
		t.Rows[i][2] = cell(tongue.Sayf("%s (%s to %s)", words.Figure(x[0]), words.Figure(x[1]), words.Figure(x[2])), Real, e.Unit, x)
		if e.Carried {
			t.Title += tongue.Say("; for a scenario: widened, because one season does not show what differs between seasons")
		}
	}
	return t
}

// triangle is a range for a scenario, its mode first.
func triangle(r measured.Triangle, unit string) Cell {
	return cell(tongue.Sayf("%s (%s to %s)", words.Figure(r.Mode), words.Figure(r.Low), words.Figure(r.High)), Real, unit, [3]float64{r.Mode, r.Low, r.High})
}

// MeasuredLoads lists the loads of a log beside what is expected of them.
func MeasuredLoads(loads []measured.FittedLoad) Table {
	t := Table{Title: tongue.Say("The loads of the log: moisture out as read and as the fit expects, % wet basis"), Head: []string{tongue.Say("line"), tongue.Say("load"), tongue.Say("hours of fire"), tongue.Say("chamber °C"), tongue.Say("in"), tongue.Say("out, read"), tongue.Say("out, expected")}, Left: 2}
	t.Apart = []string{tongue.Say("line"), tongue.Say("load"), tongue.Say("hours of fire"), tongue.Say("chamber"), tongue.Say("moisture in"), tongue.Say("moisture out, read"), tongue.Say("moisture out, expected")}
	for _, l := range loads {
		t.Rows = append(t.Rows, []Cell{
			one(fmt.Sprint(l.Line), Count, "", float64(l.Line)), text(l.Name), one(tongue.Figures("%.2f", l.Hours), Real, "h", l.Hours), one(fmt.Sprintf("%.0f", l.ChamberC), Real, "°C", l.ChamberC),
			wet(l.In), wetFine(l.Out), wetFine(l.Expected),
		})
	}
	return t
}

// wetFine is a moisture on the wet basis to a tenth of a point.
func wetFine(x float64) Cell { return one(tongue.Figures("%.1f", 100*x), Share, "", x) }

// NotUsed lists the lines of a log that tell nothing.
func NotUsed(lines []measured.NotUsed) Table {
	t := Table{Title: tongue.Say("Lines that are not used"), Head: []string{tongue.Say("line"), tongue.Say("why")}, Left: 2}
	for _, l := range lines {
		t.Rows = append(t.Rows, []Cell{one(l.Lines(), Count, "", float64(l.Line)), text(l.Why)})
	}
	return t
}

// OutputDays lists the days of a tally of cutting.
func OutputDays(days []measured.OutputDay) Table {
	t := Table{Title: tongue.Say("The days of the tally"), Head: []string{tongue.Say("line"), tongue.Say("date"), tongue.Say("person-hours"), tongue.Say("stalks per person-hour")}, Left: 2}
	for _, d := range days {
		t.Rows = append(t.Rows, []Cell{one(fmt.Sprint(d.Line), Count, "", float64(d.Line)), text(d.Date), one(tongue.Figures("%.2f", d.PersonH), Real, "h", d.PersonH), one(fmt.Sprintf("%.0f", d.PerH), Real, "1/h", d.PerH)})
	}
	return t
}

// RackSpans lists the times between weighings beside what is expected of them.
func RackSpans(spans []measured.RackSpan) Table {
	t := Table{Title: tongue.Say("Between weighings: moisture as weighed and as the fit expects, % wet basis"), Head: []string{tongue.Say("lines"), tongue.Say("rack"), tongue.Say("hours"), tongue.Say("from"), tongue.Say("to, weighed"), tongue.Say("to, expected")}, Left: 2}
	t.Apart = []string{tongue.Say("lines"), tongue.Say("rack"), tongue.Say("hours"), tongue.Say("moisture from"), tongue.Say("moisture to, weighed"), tongue.Say("moisture to, expected")}
	for _, s := range spans {
		t.Rows = append(t.Rows, []Cell{
			between(fmt.Sprintf("%d, %d", s.Before, s.Line), Count, "", [2]float64{float64(s.Before), float64(s.Line)}), text(s.Rack), one(tongue.Figures("%.2f", s.Hours), Real, "h", s.Hours), wetFine(s.From / (1 + s.From)), wetFine(s.To / (1 + s.To)), wetFine(s.Expected / (1 + s.Expected)),
		})
	}
	return t
}
