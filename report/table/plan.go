package table

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
)

// Months lists the contract months of a plan.
func Months(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Month by month with %s (good stalks at the hub before delivery)", words.Dryers(p.Dryers)),
		Head:  []string{"month", "asked", "median", "5 to 95 % of seasons", "met in", "mean missing"}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []string{
			m.Name, words.Grouped(m.Asked), words.Whole(m.Available.Median),
			words.Whole(m.Available.P5) + " to " + words.Whole(m.Available.P95),
			words.Odds(m.Odds), words.Stalks(m.Shortfall),
		})
	}
	return t
}

// Flow says where the stalks of an average season went.
func Flow(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Where stalks went with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Of(sim.Cut).Seasons)),
		Head:  []string{"", "stalks a season", "interval", "of those cut or in stock"}, Left: 1,
	}
	f := &p.Flow
	all := f.Of(sim.Cut).Mean + f.Of(sim.Opening).Mean
	rows := append([]words.Named{named(p, sim.Opening), named(p, sim.Cut), {Name: "delivered", Mean: f.Delivered}}, words.Losses(*f)...)
	for _, r := range rows {
		share := ""
		if all > 0 {
			share = words.Percent(r.Mean.Mean / all)
		}
		t.Rows = append(t.Rows, []string{r.Name, words.Stalks(r.Mean), words.Between(r.Mean), share})
	}
	for _, id := range append(sim.OfKinds(sim.NotCutFor, sim.NotWanted), sim.Browned, sim.Redried) {
		if id == sim.NotCutRain || id == sim.NotCutYardFull || f.Of(id).Mean > 0 { // what never happens is no line, but for these
			t.Rows = append(t.Rows, []string{words.FigureRow(id), words.Stalks(f.Of(id)), words.Between(f.Of(id)), ""})
		}
	}
	return t
}

// named returns a figure of a plan with its words.
func named(p decide.PlanResult, id sim.FigureID) words.Named {
	return words.Named{Name: words.FigureRow(id), Mean: p.Flow.Of(id)}
}

// Work says what the dryers did.
func Work(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Dryers, people and wood with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Of(sim.Cut).Seasons)),
		Head:  []string{"", "a season", "interval"}, Left: 1,
	}
	rows := []words.Named{named(p, sim.Charges), named(p, sim.WoodKg)}
	for _, s := range p.Flow.Shift() {
		rows = append(rows, words.Named{Name: "dryer-hours of shifts: " + words.FigureRow(s.On), Mean: s.Hours})
	}
	rows = append(rows, named(p, sim.BrokenH))
	for _, s := range p.Flow.Tasks() {
		rows = append(rows, words.Named{Name: "person-hours: " + words.FigureRow(s.On), Mean: s.Hours})
	}
	rows = append(rows, named(p, sim.RoadShut), named(p, sim.Skipped))
	for i, r := range rows {
		if r.Mean.Mean > 0 || i < 2 { // what never happens is no line
			t.Rows = append(t.Rows, []string{r.Name, words.Stalks(r.Mean), words.Between(r.Mean)})
		}
	}
	return t
}

// Rain lists the rain of the months of the seasons behind an answer.
func Rain(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Rain of the %s seasons (mm a month)", words.Grouped(p.Rain[0].Mean.Seasons)),
		Head:  []string{"month", "mean", "median", "5 to 95 % of seasons"}, Left: 1,
	}
	for _, m := range p.Rain {
		t.Rows = append(t.Rows, []string{m.Name, words.Whole(m.Mean.Mean), words.Whole(m.MM.Median), words.Whole(m.MM.P5) + " to " + words.Whole(m.MM.P95)})
	}
	return t
}

// Short lists what would have met missed months.
func Short(s decide.Shortage) Table {
	t := Table{
		Title: fmt.Sprintf("What was short: %s missed months in %s of %s seasons, lived through again with one thing more", words.Grouped(s.Months), words.Grouped(s.Seasons), words.Grouped(s.OfAll)),
		Head:  []string{"with", "months met", "of those missed"}, Left: 1,
	}
	for _, x := range s.Single {
		t.Rows = append(t.Rows, []string{words.Things(x), words.Grouped(x.Met.Met), words.Odds(x.Met)})
	}
	t.Rows = append(t.Rows, []string{"any one of these", words.Grouped(s.Alone.Met), words.Odds(s.Alone)})
	for k, x := range s.Pairs {
		if k == 3 {
			break
		}
		t.Rows = append(t.Rows, []string{"none alone, but both: " + words.Things(x), words.Grouped(x.Met.Met), words.Odds(x.Met)})
	}
	if rest := s.Months - s.Alone.Met - s.Two.Met; rest > 0 {
		t.Rows = append(t.Rows, []string{"no one and no two of the things tried", words.Grouped(rest), words.Percent(float64(rest) / float64(s.Months))})
	}
	return t
}
