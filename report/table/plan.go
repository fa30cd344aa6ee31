package table

import (
	"drystalk/report/words"
	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Months lists the contract months of a plan.
func Months(p decide.PlanResult) Table {
	t := Table{
		Title: tongue.Sayf("Month by month with %s (good stalks at the hub before delivery)", words.Dryers(p.Dryers)),
		Head:  []string{tongue.Say("month"), tongue.Say("asked"), tongue.Say("median"), tongue.Say("5 to 95 % of seasons"), tongue.Say("met in"), tongue.Say("mean missing")}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []Cell{
			text(tongue.Month(m.Name)), count(m.Asked, stalks), whole(m.Available.Median, stalks), band(m.Available, stalks), odds(m.Odds), mean(m.Shortfall, stalks),
		})
	}
	return t
}

// Flow says where the stalks of an average season went.
func Flow(p decide.PlanResult) Table {
	t := Table{
		Sheet: tongue.Say("Where stalks went"), Title: tongue.Sayf("Where stalks went with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Of(sim.Cut).Seasons)),
		Head: []string{"", tongue.Say("stalks a season"), tongue.Say("interval"), tongue.Say("of those cut or in stock")}, Left: 1,
		Apart: []string{"", tongue.Say("a season"), tongue.Say("a season"), tongue.Say("of those cut or in stock")},
	}
	f := &p.Flow
	all := f.Of(sim.Cut).Mean + f.Of(sim.Opening).Mean
	rows := append([]words.Named{named(p, sim.Opening), named(p, sim.Cut), {Name: tongue.Say("delivered"), Mean: f.Delivered}}, words.Losses(*f)...)
	for _, r := range rows {
		share := text("")
		if all > 0 {
			share = percent(r.Mean.Mean / all)
		}
		t.Rows = append(t.Rows, []Cell{text(r.Name), mean(r.Mean, stalks), meanSpan(r.Mean, stalks), share})
	}
	for _, id := range append(sim.OfKinds(sim.NotCutFor, sim.NotWanted), sim.Browned, sim.Redried) {
		if id == sim.NotCutRain || id == sim.NotCutYardFull || f.Of(id).Mean > 0 { // what never happens is no line, but for these
			t.Rows = append(t.Rows, []Cell{text(words.FigureRow(id)), mean(f.Of(id), stalks), meanSpan(f.Of(id), stalks), text("")})
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
		Sheet: tongue.Say("Dryers, people and wood"), Title: tongue.Sayf("Dryers, people and wood with %s (mean of %s seasons, 95 %% interval of the mean)", words.Dryers(p.Dryers), words.Grouped(p.Flow.Of(sim.Cut).Seasons)),
		Head: []string{"", tongue.Say("a season"), tongue.Say("interval")}, Left: 1,
		Apart: []string{"", tongue.Say("a season"), tongue.Say("a season")},
	}
	add := func(before string, id sim.FigureID, always bool) {
		m := p.Flow.Of(id)
		if always || m.Mean > 0 { // what never happens is no line
			unit := string(id.Figure().Unit)
			t.Rows = append(t.Rows, []Cell{text(before + words.FigureRow(id)), mean(m, unit), meanSpan(m, unit)})
		}
	}
	add("", sim.Charges, true)
	add("", sim.WoodKg, true)
	for _, s := range p.Flow.Shift() {
		add(tongue.Say("dryer-hours of shifts: "), s.On, false)
	}
	add("", sim.BrokenH, false)
	for _, s := range p.Flow.Tasks() {
		add(tongue.Say("person-hours: "), s.On, false)
	}
	add("", sim.RoadShut, false)
	add("", sim.Skipped, false)
	return t
}

// Rain lists the rain of the months of the seasons behind an answer.
func Rain(p decide.PlanResult) Table {
	at := "" // which rain, where sites have several
	if p.RainAt != "" {
		at = tongue.Sayf(" at %s", p.RainAt)
	}
	t := Table{
		Sheet: tongue.Sayf("Rain by month%s", at), Title: tongue.Sayf("Rain of the %s seasons%s (mm a month)", words.Grouped(p.Rain[0].Mean.Seasons), at),
		Head: []string{tongue.Say("month"), tongue.Say("mean"), tongue.Say("median"), tongue.Say("5 to 95 % of seasons")}, Left: 1,
	}
	for _, m := range p.Rain {
		t.Rows = append(t.Rows, []Cell{text(tongue.Month(m.Name)), mean(m.Mean, "mm"), whole(m.MM.Median, "mm"), band(m.MM, "mm")})
	}
	return t
}

// Short lists what would have met missed months.
func Short(s decide.Shortage) Table {
	t := Table{
		Title: tongue.Sayf("What was short: %s missed months in %s of %s seasons, lived through again with one thing more", words.Grouped(s.Months), words.Grouped(s.Seasons), words.Grouped(s.OfAll)),
		Head:  []string{tongue.Say("with"), tongue.Say("months met"), tongue.Say("of so many"), tongue.Say("of those missed")}, Left: 1,
	}
	row := func(what string, o trials.Odds) []Cell {
		return []Cell{text(what), count(o.Met, ""), count(o.Seasons, ""), odds(o)}
	}
	if s.Whole {
		t.Title = tongue.Sayf("What was short: %s of %s seasons did not reach the target, lived through again with one thing more", words.Grouped(s.Seasons), words.Grouped(s.OfAll))
		t.Head = []string{tongue.Say("with"), tongue.Say("seasons that reach it"), tongue.Say("of so many"), tongue.Say("of those that did not")}
	}
	for _, x := range s.Single {
		t.Rows = append(t.Rows, row(onlyToKnow(x)+words.Things(x), x.Met))
	}
	t.Rows = append(t.Rows, row(tongue.Say("any one of these"), s.Alone))
	for k, x := range s.Pairs {
		if k == 3 {
			break
		}
		t.Rows = append(t.Rows, row(tongue.Sayf("%snone alone, but both: %s", onlyToKnow(x), words.Things(x)), x.Met))
	}
	if rest := s.Months - s.Alone.Met - s.Two.Met; rest > 0 {
		t.Rows = append(t.Rows, []Cell{text(tongue.Say("no one and no two of the things tried")), count(rest, ""), count(s.Months, ""), percent(float64(rest) / float64(s.Months))})
	}
	t.Sums = len(t.Rows) - len(s.Single)
	return t
}

// onlyToKnow marks what may be looked at to understand a missed month and is never to be done.
func onlyToKnow(s decide.ShortOf) string {
	if words.Advisable(s.Things) {
		return ""
	}
	return tongue.Say("only to understand, never to do: ")
}
