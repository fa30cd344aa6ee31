package report

import (
	"fmt"
	"strings"

	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"

	"drystalk/sim/decide"
)

// ForSpend lays out what a budget buys.
func ForSpend(region string, target float64, s decide.Spending, currency string) (Report, error) {
	r := Report{Title: "What to buy: " + region}
	last := s.Start
	if len(s.Steps) > 0 {
		last = s.Steps[len(s.Steps)-1]
	}
	if len(s.Steps) == 0 {
		r.Sentence = fmt.Sprintf("Nothing that %s buys helps: the worst month, %s, is met in %s of %s seasons as it is.", amount(s.Budget, currency), last.Worst.Name, odds(last.Worst.Odds), grouped(s.Seasons))
	} else {
		r.Sentence = fmt.Sprintf("Of %s spend %s: %s; the worst month, %s, is then met in %s of %s seasons, against %s before.",
			amount(s.Budget, currency), amount(last.Spent, currency), boughtWords(s), last.Worst.Name, odds(last.Worst.Odds), grouped(s.Seasons), odds(s.Start.Worst.Odds))
	}
	if s.Stopped {
		r.Paragraph = append(r.Paragraph, "The search was stopped: this is the list so far.")
	}
	verdict := "reaches"
	switch {
	case last.Worst.Odds.High < target:
		verdict = "does not reach"
	case last.Worst.Odds.Low < target:
		verdict = "cannot be told from"
	}
	r.Paragraph = append(r.Paragraph, fmt.Sprintf("That %s the target of %s.", verdict, ofTen(target)))
	if s.Reached > 0 && s.Reached < len(s.Steps) {
		b := s.Steps[s.Reached-1]
		r.Paragraph = append(r.Paragraph, fmt.Sprintf("It is reached after %d of %d steps, for %s.", s.Reached, len(s.Steps), amount(b.Spent, currency)))
	}
	r.Paragraph = append(r.Paragraph, fmt.Sprintf("The region then earns %s a year, what is bought included, against %s.", amounts(s.After, currency), amounts(s.Before, currency)))
	if s.After.High < 0 {
		r.Sentence = "This plan loses money. " + r.Sentence
	}
	r.Paragraph = append(r.Paragraph, "The list ends because "+s.Why+".")
	if len(s.Marginal) > 0 && s.Marginal[0].Fewer > 0 {
		m := s.Marginal[0]
		r.Paragraph = append(r.Paragraph, fmt.Sprintf("With more money, next would come %s%s for %s: %s fewer stalks missing a season (search seasons).", amountWords(m.What), atSite(m.Site), amount(m.Cost, currency), grouped(round(m.Fewer))))
	}
	r.Paragraph = append(r.Paragraph, fmt.Sprintf("%s site-plans were run through %s search seasons to choose; the figures are of %s fresh seasons. Not tried: %s.",
		grouped(s.Tried), grouped(s.SearchSeasons), grouped(s.Seasons), strings.Join(s.NotTried, "; ")))
	chart, err := spendChart(s, target, currency)
	if err != nil {
		return Report{}, err
	}
	r.Sections = append(r.Sections, Section{Title: "In this order", Charts: []Chart{chart}, Tables: []Table{spendTable(s, currency)}})
	if len(s.Marginal) > 0 {
		r.Sections = append(r.Sections, Section{Title: "One step more", Tables: []Table{marginalTable(s, currency)}})
	}
	return r, nil
}

func atSite(site string) string {
	if site == "" {
		return ""
	}
	return " at " + site
}

// amountWords writes so much of a thing: "2 dryers", "50 m² of open rack".
func amountWords(a decide.Amount) string {
	n := round(a.Size)
	switch a.Of {
	case "dryers":
		return dryers(n)
	case "cutters":
		return fmt.Sprintf("%d cutters", n)
	case "open racks":
		return fmt.Sprintf("%d m² of open rack", n)
	case "clear roofs":
		return fmt.Sprintf("%d m² of clear roof", n)
	case "sheets":
		return "sheets over the open racks"
	case "sealed bags":
		return "sealed bags in the store"
	case "longer shifts":
		return fmt.Sprintf("a shift %d h longer", n)
	case "store room":
		return fmt.Sprintf("room for %s stalks", grouped(n))
	case "stock ahead":
		return fmt.Sprintf("%s stalks in stock at the start", grouped(n))
	}
	return fmt.Sprintf("%d %s of %s", n, a.Unit, a.Of)
}

func amountsWords(list []decide.Amount) string {
	var parts []string
	for _, a := range list {
		parts = append(parts, amountWords(a))
	}
	return and(parts)
}

// boughtWords sums up a list, thing by thing.
func boughtWords(s decide.Spending) string {
	var parts []string
	for _, all := range s.All {
		sum := 0.0
		var at []string
		for i, x := range all.PerSite {
			sum += x
			if x > 0 && i < len(s.Sites) {
				at = append(at, s.Sites[i])
			}
		}
		words := amountWords(decide.Amount{Of: all.Of, Size: sum, Unit: all.Unit})
		switch all.Of {
		case "dryers":
			per := make([]int, len(s.Sites))
			for i := range per {
				per[i] = round(all.PerSite[i])
			}
			words += " (" + where(s.Sites, per) + ")"
		case "longer shifts":
			words = "longer shifts (" + and(at) + ")"
		default:
			if len(at) > 0 {
				words += " (" + and(at) + ")"
			}
		}
		parts = append(parts, words)
	}
	return and(parts)
}

func spendTable(s decide.Spending, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What to buy, by gain for its money (%s fresh seasons, 95 %% intervals)", grouped(s.Seasons)),
		Head:  []string{"buy", "at", "cost, " + currency, "so far", "worst month", "met in", "gain, points", "fewer missing stalks"}, Left: 2,
	}
	row := func(what, site string, b decide.Bought, gain, fewer string) {
		t.Rows = append(t.Rows, []string{what, site, bareAmount(b.Cost), bareAmount(b.Spent), b.Worst.Name, odds(b.Worst.Odds), gain, fewer})
	}
	row("(the plan as written)", "", s.Start, "", "")
	for _, b := range s.Steps {
		row(amountsWords(b.What), b.Site, b, points(b.Gain), fmt.Sprintf("%s (%s to %s)", grouped(round(b.Fewer.Mean)), grouped(round(b.Fewer.Low)), grouped(round(b.Fewer.High))))
	}
	return t
}

func marginalTable(s decide.Spending, currency string) Table {
	t := Table{
		Title: fmt.Sprintf("What one step more would do (%s search seasons; these chose the list, so they flatter it)", grouped(s.SearchSeasons)),
		Head:  []string{"step", "at", "cost, " + currency, "worst month, points", "fewer missing stalks", "per 100 " + currency}, Left: 2,
	}
	for k, m := range s.Marginal {
		if k == 12 {
			break
		}
		per := 0.0
		if m.Cost > 0 {
			per = 100 * m.Fewer / m.Cost
		}
		t.Rows = append(t.Rows, []string{amountWords(m.What), m.Site, bareAmount(m.Cost), fmt.Sprintf("%+d", round(100*m.Gain)), grouped(round(m.Fewer)), grouped(round(per))})
	}
	return t
}

// spendChart draws the odds of the worst month against what is spent.
func spendChart(s decide.Spending, target float64, currency string) (Chart, error) {
	p := blank("How often the worst month is met as the list is bought", "spent ("+currency+")", "seasons in which it is met (%)")
	var v intervals
	for _, b := range append([]decide.Bought{s.Start}, s.Steps...) {
		o := b.Worst.Odds
		v.XYs = append(v.XYs, plotter.XY{X: b.Spent, Y: 100 * o.Share})
		v.YErrors = append(v.YErrors, struct{ Low, High float64 }{100 * (o.Low - o.Share), 100 * (o.High - o.Share)})
	}
	top := max(1, s.Budget)
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = -0.03*top, 1.03*top, 0, 104
	var at []float64
	for x, step := 0.0, niceStep(top); x <= top; x += step {
		at = append(at, x)
	}
	p.X.Tick.Marker = ticks(at, bareAmount)
	p.Y.Tick.Marker = ticks([]float64{0, 20, 40, 60, 80, 100}, func(y float64) string { return fmt.Sprint(round(y)) })
	rules(p, p.X.Min, p.X.Max, []float64{20, 40, 60, 80, 100})
	goal, err := plotter.NewLine(plotter.XYs{{X: p.X.Min, Y: 100 * target}, {X: p.X.Max, Y: 100 * target}})
	if err != nil {
		return Chart{}, err
	}
	goal.Color, goal.Width, goal.Dashes = rust, vg.Points(1.4), []vg.Length{vg.Points(6), vg.Points(3)}
	line, err := plotter.NewLine(v.XYs)
	if err != nil {
		return Chart{}, err
	}
	line.Color, line.Width = ink, vg.Points(0.8)
	p.Add(goal, line)
	if err := v.add(p); err != nil {
		return Chart{}, err
	}
	label(p, p.X.Min, 100*target, " target: "+ofTen(target), rust, 0, vg.Points(-8), draw.XLeft)
	alt := fmt.Sprintf("The worst month is met in %s with nothing bought.", odds(s.Start.Worst.Odds))
	if len(s.Steps) > 0 {
		alt += fmt.Sprintf(" After the last step in %s.", odds(s.Steps[len(s.Steps)-1].Worst.Odds))
	}
	return Chart{"spending", alt, p, chartHeight}, nil
}
