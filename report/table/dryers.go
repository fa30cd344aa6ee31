package table

import (
	"strings"

	"drystalk/report/words"
	"drystalk/sim/decide"
	"drystalk/sim/trials"
	"drystalk/tongue"
)

// Dryers lists the numbers of dryers with their odds.
func Dryers(a decide.Answer) Table {
	t := Table{
		Title: tongue.Say("Odds by number of dryers (95 % intervals)"),
		Head:  []string{tongue.Say("dryers"), tongue.Say("worst month"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("delivered"), tongue.Say("missing a season"), tongue.Say("seasons")}, Left: 2,
	}
	for n, p := range a.Plans {
		name := plain(p.Dryers, "")
		if n == a.Needed {
			note := tongue.Say("enough")
			if a.Proof.Enough != p.Dryers {
				note = tongue.Say("may do")
			}
			name = name.noted(name.Text+" ("+note+")", note)
		}
		missing := 0.0
		for _, m := range p.Months {
			missing += m.Shortfall.Mean
		}
		t.Rows = append(t.Rows, withGoal(a.Goal, p.Odds, []Cell{
			name, worstMonth(p.WorstMonth().Name, p.WorstMonth().Odds), odds(p.WorstMonth().Odds), odds(p.AllMonths), percent(p.Share.Mean), whole(missing, stalks), count(p.AllMonths.Seasons, ""),
		}))
	}
	t.Head = withGoalHead(a.Goal, t.Head)
	return t
}

// worstMonth names the month that is met least often; where each is met in every season, none is.
func worstMonth(name string, o trials.Odds) Cell {
	if missesNone(o) {
		return text(tongue.Say("none missed"))
	}
	return text(tongue.Month(name))
}

// missesNone tells of the odds of a worst month whether it, and so every month, is met in every season.
func missesNone(o trials.Odds) bool { return o.Seasons > 0 && o.Met == o.Seasons }

// Where lists the placements.
func Where(a decide.Answer) Table {
	t := Table{Sheet: tongue.Say("Best placement of each number"), Title: tongue.Sayf("Best placement of each number in %s search seasons%s; others may do as well", words.Grouped(a.SearchSeasons), kept(a)), Head: append([]string{tongue.Say("dryers")}, a.Sites...), Left: 1}
	for _, p := range a.Plans {
		row := []Cell{plain(p.Dryers, "")}
		for _, n := range p.PerSite {
			row = append(row, plain(n, ""))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// kept says in a heading that some dryers stand already.
func kept(a decide.Answer) string {
	if a.Plans[0].Dryers > 0 {
		return tongue.Say(", those kept that stand already")
	}
	return ""
}

// Phases lists the nested order of the plan to fund, dryer by dryer.
func Phases(a decide.Answer, currency string) Table {
	t := Table{
		Title: tongue.Say("In phases: one dryer after the other, what stands is kept"),
		Head:  []string{tongue.Say("dryers"), tongue.Say("the next at"), tongue.Say("worst month"), tongue.Say("met in"), tongue.Say("all months met in"), tongue.Say("odds lost by this order, points"), tongue.Say("seasons")}, Left: 3,
	}
	t.Head = withGoalHead(a.Goal, t.Head)
	funded := len(a.Money) == len(a.Plans) && a.Money[0].ToFund != nil
	if funded {
		t.Head = append(t.Head, tongue.Sayf("funded so far, %s", currency))
	}
	for k, p := range a.Phases {
		row := []Cell{
			plain(p.Dryers, ""), text(p.AddedAt), worstMonth(p.WorstName, p.Odds), odds(p.Odds), odds(p.AllMonths), lost(p.NestingCosts), count(p.Odds.Seasons, ""),
		}
		row = withGoal(a.Goal, p.Reached, row)
		if funded {
			row = append(row, amount(a.Money[k+1].ToFund.Cost, currency))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// lost is what nesting costs of the odds, in points; nothing where the placement is the best.
func lost(m trials.Mean) Cell {
	if m.Mean == 0 && m.Low == 0 && m.High == 0 {
		return ranged("0", Share, "", m)
	}
	return points(m)
}

// Swings says how the answer moves with what nobody has measured.
func Swings(a decide.Answer, most int) Table {
	met := words.MetWith(a)
	t := Table{
		Title: tongue.Say("How the answer moves: seasons split in thirds by each unmeasured parameter"),
		Head:  []string{tongue.Say("parameter"), tongue.Say("low third"), tongue.Say("dryers needed"), met, tongue.Say("high third"), tongue.Say("dryers needed"), met}, Left: 1, Together: 3,
		Apart: []string{tongue.Say("parameter"), tongue.Say("low third below"), tongue.Say("low third: dryers needed"), tongue.Sayf("low third: %s", met), tongue.Say("high third above"), tongue.Say("high third: dryers needed"), tongue.Sayf("high third: %s", met)},
	}
	for i, s := range a.Swings {
		if i == most {
			break
		}
		t.Rows = append(t.Rows, []Cell{
			text(withUnit(s)), one(tongue.Sayf("below %s", words.Quantity(s.LowBelow, "")), Real, s.Unit, s.LowBelow), needed(s.Low), odds(s.OddsLow),
			one(tongue.Sayf("above %s", words.Quantity(s.HighAbove, "")), Real, s.Unit, s.HighAbove), needed(s.High), odds(s.OddsHigh),
		})
	}
	return t
}

// withUnit names a parameter with its unit, if it has one.
func withUnit(s decide.Swing) string {
	if s.Unit == "" {
		return s.Parameter
	}
	return s.Parameter + ", " + strings.Trim(s.Unit, "()")
}

// needed is a number of dryers that reaches the target, or the word that none does.
func needed(n int) Cell {
	if n < 0 {
		return text(words.Needed(n))
	}
	return one(words.Needed(n), Count, "", float64(n))
}
