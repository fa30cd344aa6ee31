package table

import (
	"fmt"

	"drystalk/report/words"
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
		Title: fmt.Sprintf("Where stalks went with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Cut.Seasons)),
		Head:  []string{"", "stalks a season", "interval", "of those cut or in stock"}, Left: 1,
	}
	f := p.Flow
	all := f.Cut.Mean + f.OpeningStock.Mean
	rows := append([]words.Named{{Name: "in stock on the first day", Mean: f.OpeningStock}, {Name: "cut", Mean: f.Cut}, {Name: "delivered", Mean: f.Delivered}}, words.Losses(f)...)
	for _, r := range rows {
		share := ""
		if all > 0 {
			share = words.Percent(r.Mean.Mean / all)
		}
		t.Rows = append(t.Rows, []string{r.Name, words.Stalks(r.Mean), words.Between(r.Mean), share})
	}
	for i, r := range []words.Named{
		{Name: "not cut: rain", Mean: f.NotCutRain},
		{Name: "not cut: yard full", Mean: f.NotCutYardFull},
		{Name: "not cut: people at other work", Mean: f.NotCutPeople},
		{Name: "not cut: little plant within reach", Mean: f.NotCutStand},
		{Name: "not cut: stand closed", Mean: f.NotCutClosed},
		{Name: "not cut: share and stock reached", Mean: f.NotCutTarget},
		{Name: "of the second grade: browned in the dryer", Mean: f.Browned},
		{Name: "too damp for the gate, dried again", Mean: f.Redried},
	} {
		if i < 2 || r.Mean.Mean > 0 {
			t.Rows = append(t.Rows, []string{r.Name, words.Stalks(r.Mean), words.Between(r.Mean), ""})
		}
	}
	return t
}

// Work says what the dryers did.
func Work(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Dryers, people and wood with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Cut.Seasons)),
		Head:  []string{"", "a season", "interval"}, Left: 1,
	}
	rows := []words.Named{{Name: "charges", Mean: p.Flow.Charges}, {Name: "wood, kg", Mean: p.Flow.WoodKg}}
	for _, s := range p.Flow.Shift {
		rows = append(rows, words.Named{Name: "dryer-hours of shifts: " + s.On, Mean: s.Hours})
	}
	rows = append(rows, words.Named{Name: "dryer-hours by day and night, out or under repair", Mean: p.Flow.BrokenH})
	for _, s := range p.Flow.Tasks {
		rows = append(rows, words.Named{Name: "person-hours: " + s.On, Mean: s.Hours})
	}
	rows = append(
		rows, words.Named{Name: "days on which a collection found the road shut", Mean: p.Flow.RoadShutDays},
		words.Named{Name: "collections that did not come for so few stalks", Mean: p.Flow.Skipped},
	)
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
