package table

import (
	"fmt"
	"strconv"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/weather"
)

// Fit sets the statistics of a record beside those of simulated years.
func Fit(f weather.FitReport) Table {
	t := Table{Title: fmt.Sprintf("Statistics of the record against %s simulated years", words.Grouped(f.Years)), Head: []string{"", "unit", "observed", "simulated", "95 % of blocks", "inside"}, Left: 2}
	for _, l := range f.Lines {
		in := "yes"
		if !l.Inside {
			in = "no"
		}
		t.Rows = append(t.Rows, []Cell{
			text(l.Name), text(l.Unit), one(words.WholeOrFigure(l.Observed), Real, "", l.Observed), one(words.WholeOrFigure(l.Simulated), Real, "", l.Simulated),
			between(words.WholeOrFigure(l.Low)+" to "+words.WholeOrFigure(l.High), Real, "", [2]float64{l.Low, l.High}), text(in),
		})
	}
	return t
}

// Record lists the rain of the months of a record.
func Record(s weather.Summary) Table {
	t := Table{Title: fmt.Sprintf("%s, %d to %d: %d complete years, %d used", s.Station, s.FirstYear, s.LastYear, s.Complete, s.Used), Head: []string{"month", "rain mm", "days with 1 mm"}, Left: 1}
	for m := range 12 {
		t.Rows = append(t.Rows, []Cell{text(words.MonthName(m)), one(fmt.Sprint(words.Round(s.RainMM[m])), Real, "mm", s.RainMM[m]), decimal(s.RainDays[m], "")})
	}
	return t
}

// YearMonths compares the months of real years with the generator.
func YearMonths(y decide.YearsResult) Table {
	t := Table{Title: "Real years beside the generator (95 % intervals)", Head: []string{"month", "real years", "generator", "p-value"}, Left: 1}
	for _, m := range y.Months {
		t.Rows = append(t.Rows, []Cell{text(m.Name), odds(m.Real), odds(m.Generator), figure(m.PValue, "")})
	}
	return t
}

// Years lists the real years.
func Years(y decide.YearsResult) Table {
	t := Table{Title: fmt.Sprintf("Year by year (%d days without a rain report filled from the generator)", y.Filled), Head: []string{"year", "months met", "missed", "stalks missing", "most lost to"}, Left: 3}
	for _, r := range y.Years {
		missed := words.And(r.Missed)
		if missed == "" {
			missed = "-"
		}
		t.Rows = append(t.Rows, []Cell{
			text(strconv.Itoa(r.Year)), plain(r.Met, "").noted(fmt.Sprintf("%d of %d", r.Met, r.Asked), fmt.Sprintf("of %d", r.Asked)), text(missed), count(r.Missing, stalks), count(r.LostCount, stalks).noted(fmt.Sprintf("%s %s", words.Grouped(r.LostCount), most(r.MostLost)), most(r.MostLost)),
		})
	}
	return t
}

// most names what took most stalks of a season.
func most(id sim.FigureID) string {
	if id == sim.NoFigure {
		return "nothing"
	}
	return words.FigureName(id)
}
