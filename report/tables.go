package report

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"drystalk/sim"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
)

// Table is a heading, column heads and rows of text.
type Table struct {
	Title string
	Head  []string
	Rows  [][]string
	Left  int // columns from the left that hold text; the rest are figures
}

// Text writes the table for a terminal.
func (t Table) Text() string {
	width := make([]int, len(t.Head))
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, cell := range row {
			width[i] = max(width[i], utf8.RuneCountInString(cell))
		}
	}
	var b strings.Builder
	b.WriteString(t.Title + "\n")
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		var line strings.Builder
		for i, cell := range row {
			pad := strings.Repeat(" ", width[i]-utf8.RuneCountInString(cell))
			line.WriteString("  ")
			if i < t.Left {
				line.WriteString(cell + pad)
			} else {
				line.WriteString(pad + cell)
			}
		}
		b.WriteString(strings.TrimRight(line.String(), " ") + "\n")
	}
	return b.String()
}

func stalks(m trials.Mean) string { return grouped(round(m.Mean)) }

// DryersTable lists the numbers of dryers with their odds.
func DryersTable(a decide.Answer) Table {
	t := Table{
		Title: "Odds by number of dryers (95 % intervals)",
		Head:  []string{"dryers", "worst month", "met in", "all months met in", "delivered", "missing a season", "seasons"}, Left: 2,
	}
	for n, p := range a.Plans {
		name := fmt.Sprint(p.Dryers)
		if n == a.Needed {
			name += " (fund)"
		}
		missing := 0.0
		for _, m := range p.Months {
			missing += m.Shortfall.Mean
		}
		t.Rows = append(t.Rows, []string{
			name, p.WorstMonth().Name, odds(p.WorstMonth().Odds), odds(p.AllMonths),
			percent(p.Share.Mean), grouped(round(missing)), grouped(p.AllMonths.Seasons),
		})
	}
	return t
}

// WhereTable lists the placements.
func WhereTable(a decide.Answer) Table {
	t := Table{Title: "Best placement of each number", Head: append([]string{"dryers"}, a.Sites...), Left: 1}
	for _, p := range a.Plans {
		row := []string{fmt.Sprint(p.Dryers)}
		for _, n := range p.PerSite {
			row = append(row, fmt.Sprint(n))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// MonthsTable lists the contract months of a plan.
func MonthsTable(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Month by month with %s (good stalks at the hub before delivery)", dryers(p.Dryers)),
		Head:  []string{"month", "asked", "median", "5 to 95 % of seasons", "met in", "mean missing"}, Left: 1,
	}
	for _, m := range p.Months {
		t.Rows = append(t.Rows, []string{
			m.Name, grouped(m.Asked), grouped(round(m.Available.Median)),
			grouped(round(m.Available.P5)) + " to " + grouped(round(m.Available.P95)),
			odds(m.Odds), stalks(m.Shortfall),
		})
	}
	return t
}

// flowRow is one line of where stalks went.
type flowRow struct {
	name string
	mean trials.Mean
}

// losses lists what became of cut stalks that were not delivered.
func losses(f decide.Flow) []flowRow {
	return []flowRow{
		{"sold as second grade", f.Second},
		{"rejected for mould", f.Rejected},
		{"rotted and thrown out", f.ThrownOut},
		{"broken, dried too far", f.Broken},
		{"refused at the gate", f.RefusedAtGate},
		{"left over at the end", f.LeftOver},
	}
}

// FlowTable says where the stalks of an average season went.
func FlowTable(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Where stalks went with %s (mean of %s seasons, 95 %% interval of the mean)", dryers(p.Dryers), grouped(p.Flow.Cut.Seasons)),
		Head:  []string{"", "stalks a season", "interval", "of those cut or in stock"}, Left: 1,
	}
	f := p.Flow
	all := f.Cut.Mean + f.OpeningStock.Mean
	rows := append([]flowRow{{"in stock on the first day", f.OpeningStock}, {"cut", f.Cut}, {"delivered", f.Delivered}}, losses(f)...)
	for _, r := range rows {
		share := ""
		if all > 0 {
			share = percent(r.mean.Mean / all)
		}
		t.Rows = append(t.Rows, []string{r.name, stalks(r.mean), between(r.mean), share})
	}
	for i, r := range []flowRow{
		{"not cut: rain", f.NotCutRain},
		{"not cut: yard full", f.NotCutYardFull},
		{"not cut: people at other work", f.NotCutPeople},
		{"not cut: little plant within reach", f.NotCutStand},
		{"not cut: stand closed", f.NotCutClosed},
		{"not cut: share and stock reached", f.NotCutTarget},
		{"of the second grade: browned in the dryer", f.Browned},
		{"too damp for the gate, dried again", f.Redried},
	} {
		if i < 2 || r.mean.Mean > 0 {
			t.Rows = append(t.Rows, []string{r.name, stalks(r.mean), between(r.mean), ""})
		}
	}
	return t
}

func between(m trials.Mean) string {
	return grouped(round(m.Low)) + " to " + grouped(round(m.High))
}

// WorkTable says what the dryers did.
func WorkTable(p decide.PlanResult) Table {
	t := Table{
		Title: fmt.Sprintf("Dryers, people and wood with %s (mean of %s seasons, 95 %% interval of the mean)", dryers(p.Dryers), grouped(p.Flow.Cut.Seasons)),
		Head:  []string{"", "a season", "interval"}, Left: 1,
	}
	rows := []flowRow{{"charges", p.Flow.Charges}, {"wood, kg", p.Flow.WoodKg}}
	for _, s := range p.Flow.Shift {
		rows = append(rows, flowRow{"dryer-hours of shifts: " + s.On, s.Hours})
	}
	rows = append(rows, flowRow{"dryer-hours by day and night, out or under repair", p.Flow.BrokenH})
	for _, s := range p.Flow.Tasks {
		rows = append(rows, flowRow{"person-hours: " + s.On, s.Hours})
	}
	rows = append(
		rows, flowRow{"days on which a collection found the road shut", p.Flow.RoadShutDays},
		flowRow{"collections that did not come for so few stalks", p.Flow.Skipped},
	)
	for i, r := range rows {
		if r.mean.Mean > 0 || i < 2 { // what never happens is no line
			t.Rows = append(t.Rows, []string{r.name, stalks(r.mean), between(r.mean)})
		}
	}
	return t
}

// SwingsTable says how the answer moves with what nobody has measured.
func SwingsTable(a decide.Answer, most int) Table {
	t := Table{
		Title: "How the answer moves: seasons split in thirds by each unmeasured parameter",
		Head:  []string{"parameter", "low third", "dryers", "worst month met in", "high third", "dryers", "worst month met in"}, Left: 1,
	}
	for i, s := range a.Swings {
		if i == most {
			break
		}
		t.Rows = append(t.Rows, []string{
			s.Parameter, "below " + quantity(s.LowBelow, ""), needed(s.Low), odds(s.OddsLow),
			"above " + quantity(s.HighAbove, ""), needed(s.High), odds(s.OddsHigh),
		})
	}
	return t
}

// AssumptionsTable lists assumptions.
func AssumptionsTable(list []sim.Assumption) Table {
	t := Table{Title: "Assumptions", Head: []string{"what", "value", "source", "varied"}, Left: 4}
	for _, a := range list {
		varied := ""
		if a.VariedInTrials {
			varied = "each season"
		}
		t.Rows = append(t.Rows, []string{a.Name, a.Value, a.Source, varied})
	}
	return t
}

// SiteTable lists the months of one site's season.
func SiteTable(l sim.SiteLedger, hub []sim.HubMonth) Table {
	t := Table{
		Title: fmt.Sprintf("%s, %s", l.Site, dryers(l.Dryers)),
		Head:  []string{"month", "at start", "cut", "to hub", "second", "rejected", "thrown out", "broken", "at end", "charges", "fire h", "wood kg", "not cut"}, Left: 1,
	}
	for i, m := range l.Months {
		t.Rows = append(t.Rows, []string{
			hub[i].Month.String(), grouped(m.Opening), grouped(m.Cut), grouped(m.ToHub), grouped(m.Second), grouped(m.Rejected),
			grouped(m.ThrownOut), grouped(m.Broken), grouped(m.Closing), grouped(m.Charges), grouped(round(m.FiringH)),
			grouped(round(m.WoodKg)), notCut(m),
		})
	}
	return t
}

// notCut names the largest reason for stalks not cut.
func notCut(m sim.SiteMonth) string {
	most, why := 0, ""
	for _, r := range []struct {
		n   int
		why string
	}{{m.NotCutRain, "rain"}, {m.NotCutYardFull, "yard full"}, {m.NotCutPeople, "people"}, {m.NotCutStand, "stand"}, {m.NotCutClosed, "stand closed"}, {m.NotCutTarget, "share reached"}} {
		if r.n > most {
			most, why = r.n, r.why
		}
	}
	if most == 0 {
		return "0"
	}
	return grouped(most) + " " + why
}

// DaysTable lists the days of one site from one day of the season to another.
func DaysTable(site string, days []sim.SiteDay, from, to int, date func(d int) string) Table {
	t := Table{
		Title: site + ", day by day (stalks at the end of the day)",
		Head:  []string{"day", "rain mm", "cut", "on racks", "heap", "dryers", "store", "to hub", "lost", "fires out", "mould", "not cut", "short"}, Left: 1,
	}
	for _, d := range days[from : to+1] {
		notCut := grouped(d.NotCut)
		if d.NotCut > 0 {
			notCut += " " + d.Why
		}
		t.Rows = append(t.Rows, []string{
			date(d.Day), fmt.Sprintf("%.1f", d.RainMM), grouped(d.Cut), grouped(d.OnRacks), grouped(d.InHeap), grouped(d.InDryers), grouped(d.InStore),
			grouped(d.ToHub), grouped(d.Lost), grouped(d.Charges), fmt.Sprintf("%.1f", d.Mould), notCut, d.Short,
		})
	}
	return t
}

// HubTable lists the months at the hub.
func HubTable(hub []sim.HubMonth) Table {
	t := Table{Title: "The hub", Head: []string{"month", "at start", "arrived", "refused", "asked", "delivered", "made good", "at end", "met"}, Left: 1}
	for _, m := range hub {
		met := "no"
		switch {
		case m.Asked == 0:
			met = "-"
		case m.Met:
			met = "yes"
		}
		t.Rows = append(t.Rows, []string{
			m.Month.String(), grouped(m.Opening), grouped(m.Arrived), grouped(m.RefusedAtGate), grouped(m.Asked), grouped(m.Delivered), grouped(m.MadeGood), grouped(m.Closing), met,
		})
	}
	return t
}

// WhySentence says why a month was missed.
func WhySentence(w decide.MonthWhy) string {
	s := fmt.Sprintf("%s missed %s of %s stalks.", w.Month, grouped(w.Asked-w.Delivered), grouped(w.Asked))
	switch {
	case len(w.MetWith) > 0:
		return s + " In the same season each of these alone would have met it: " + and(w.MetWith) + "."
	case w.MostAdds > 0:
		return s + fmt.Sprintf(" No single thing tried would have met it; %s would have added most, %s stalks.", w.Most, grouped(w.MostAdds))
	}
	return s + " Nothing tried alone would have added a stalk."
}

// SeasonSentence says how one season went.
func SeasonSentence(region string, l sim.RegionLedger) string {
	var missed []string
	asked := 0
	for _, m := range l.Hub {
		if m.Asked == 0 {
			continue
		}
		asked++
		if !m.Met {
			missed = append(missed, fmt.Sprintf("%s (%s of %s)", m.Month, grouped(m.Delivered), grouped(m.Asked)))
		}
	}
	if len(missed) == 0 {
		return fmt.Sprintf("%s, season %d: all %d contract months are met.", region, l.Season, asked)
	}
	return fmt.Sprintf("%s, season %d: %d of %d contract months are met; missed: %s.", region, l.Season, asked-len(missed), asked, and(missed))
}
