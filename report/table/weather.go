package table

import (
	"fmt"
	"strconv"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// Fit sets the statistics of a record beside those of simulated years: what each differs by, from
// where a difference matters, and from where a record of this length would show one. Only lines
// that decide have the last three.
func Fit(f weather.FitReport) Table {
	t := Table{
		Sheet: tongue.Say("The record and simulated years"), Title: tongue.Sayf("Statistics of the record against %s simulated years", words.Grouped(f.Years)),
		Head: []string{"", tongue.Say("unit"), tongue.Say("observed"), tongue.Say("simulated"), tongue.Say("95 % of blocks"), tongue.Say("inside"), tongue.Say("matters from"), tongue.Say("would show from"), tongue.Say("judged")}, Left: 2,
	}
	for _, l := range f.Lines {
		in := tongue.Say("yes")
		if !l.Inside {
			in = tongue.Say("no")
		}
		row := []Cell{
			text(l.Name), text(l.SaidUnit()), one(words.WholeOrFigure(l.Observed), Real, "", l.Observed), one(words.WholeOrFigure(l.Simulated), Real, "", l.Simulated),
			between(tongue.Sayf("%s to %s", words.WholeOrFigure(l.Low), words.WholeOrFigure(l.High)), Real, "", [2]float64{l.Low, l.High}), text(in),
		}
		if l.Weight {
			row = append(row, figure(l.Tolerance, ""), figure(l.Shows, ""), text(l.State.String()))
		} else {
			row = append(row, text("-"), text("-"), text("-"))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Record lists the rain of the months of a record.
func Record(s weather.Summary) Table {
	t := Table{Title: tongue.Sayf("%s, %d to %d: %d years used, of which %d are complete", s.Station, s.FirstYear, s.LastYear, s.Used, s.Complete), Head: []string{tongue.Say("month"), tongue.Say("rain mm"), tongue.Say("days with 1 mm")}, Left: 1}
	for m := range 12 {
		t.Rows = append(t.Rows, []Cell{text(words.MonthName(m)), one(fmt.Sprint(words.Round(s.RainMM[m])), Real, "mm", s.RainMM[m]), decimal(s.RainDays[m], "")})
	}
	return t
}

// YearMonths compares the months of real years with the generator.
func YearMonths(y decide.YearsResult) Table {
	t := Table{Title: tongue.Say("Real years beside the generator (95 % intervals)"), Head: []string{tongue.Say("month"), tongue.Say("real years"), tongue.Say("generator"), tongue.Say("p-value"), tongue.Say("would show from")}, Left: 1}
	for _, m := range y.Months {
		t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Name)), ranged(words.Share(m.Real), Share, "", m.Real), odds(m.Generator), figure(m.PValue, ""), percent(m.Shows)})
	}
	return t
}

// Years lists the real years and in which share of their draws each month is met.
func Years(y decide.YearsResult) Table {
	t := Table{
		Sheet: tongue.Say("Each real year"), Title: tongue.Sayf("Year by year: share of %d draws of luck in which a month is met (%d days without a rain report filled from the generator)", y.Draws, y.Filled),
		Head: append(append([]string{tongue.Say("year")}, y.Names...), tongue.Say("all months"), tongue.Say("stalks missing"), tongue.Say("most lost to")), Left: 1,
	}
	for _, r := range y.Years {
		row := []Cell{text(strconv.Itoa(r.Year))}
		for _, share := range r.Shares {
			row = append(row, percent(share))
		}
		lost := words.Round(r.LostCount)
		t.Rows = append(t.Rows, append(row, percent(r.All), whole(r.Missing, stalks), count(lost, stalks).noted(fmt.Sprintf("%s %s", words.Grouped(lost), most(r.MostLost)), most(r.MostLost))))
	}
	return t
}

// most names what took most stalks of a season.
func most(id sim.FigureID) string {
	if id == sim.NoFigure {
		return tongue.Say("nothing")
	}
	return words.FigureName(id)
}
