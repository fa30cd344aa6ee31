package chart

import (
	"fmt"

	"drystalk/report/words"
	"drystalk/tongue"

	aim "drystalk/sim/goal"
	"drystalk/sim/ways"
)

// Ways draws the odds of the target as one change of working comes on top of the other, and of each
// change alone.
func Ways(a ways.Answer) (Chart, error) {
	list := []named{{tongue.Say("as now"), a.Now.Odds}}
	for _, w := range a.Together {
		list = append(list, named{tongue.Sayf("and %s", words.WayAt(w.Changes[len(w.Changes)-1])), w.Odds})
	}
	alt := tongue.Sayf("%s: in %s of seasons as now", words.HowOften(a.Goal), words.Odds(a.Now.Odds))
	for _, o := range list[1:] {
		alt += tongue.Sayf(", %s in %s", o.of, words.Odds(o.odds))
	}
	for i, w := range a.Alone {
		if i > 0 || len(a.Together) == 0 { // the first of those together stands alone already
			list = append(list, named{tongue.Sayf("alone: %s", words.WayAt(w.Changes[0])), w.Odds})
		}
	}
	c, err := againstNotch("ways", alt+".", a.Target, oddsOf{tongue.Sayf("%s as work is changed", words.HowOften(a.Goal)), a.Goal, list})
	if err != nil || len(list) == 1 {
		return c, err
	}
	c.plot.marks = append(c.plot.marks, mark{nil, tongue.Say("“and”: with the rows above it; “alone”: as now but for this")})
	return c.plot.rows(c.Name, c.Alt, len(list)), nil
}

// oddsOf are odds of a goal in rows.
type oddsOf struct {
	title string
	goal  aim.Goal
	list  []named
}

// againstNotch draws odds in rows with the target at each of them.
func againstNotch(name, alt string, target float64, of oddsOf) (Chart, error) {
	p, err := oddsRows(tongue.Sayf("seasons in which %s (%%)", so(of.goal)), of.list)
	if err != nil {
		return Chart{}, err
	}
	for i := range of.list {
		if err := notch(p, 100*target, row(i, len(of.list))); err != nil {
			return Chart{}, err
		}
	}
	h := headed{title: of.title, body: p, marks: append(rowMarks(tongue.Say("share of trial seasons")), mark{post(wanted), tongue.Sayf("upright line: target, %s", words.OfTen(target))})}
	return h.rows(name, alt, len(of.list)), nil
}

// Aim is the odds that are wanted of a goal.
type Aim struct {
	Goal   aim.Goal
	Target float64 // fraction of seasons
}

// Beside draws what is offered beside what working better brings with nothing bought, in the same
// seasons; offered says what that is, such as "with 7 dryers", and is "" for a promise, which is the
// same either way.
func Beside(r ways.Rival, offered string, of Aim) (Chart, error) {
	list := []named{
		{tongue.Sayf("worked as now, %s", words.WithDryersOrNone(r.Dryers)), r.Without},
		{tongue.Sayf("worked better, %s", words.WithDryersOrNone(r.Dryers)), r.Odds},
	}
	title := tongue.Sayf("%s: working better, nothing bought", words.HowOften(of.Goal))
	if offered != "" {
		title = tongue.Sayf("%s: working better, beside what is offered", words.HowOften(of.Goal))
		list = append(list, named{tongue.Sayf("what is offered: %s", offered), r.Offered})
	}
	alt := tongue.Sayf("%s, of %s seasons:", words.HowOften(of.Goal), words.Grouped(r.Seasons))
	for _, o := range list {
		alt += fmt.Sprintf(" %s, %s;", o.of, words.Odds(o.odds))
	}
	c, err := againstNotch("working-better", alt[:len(alt)-1]+".", of.Target, oddsOf{title, of.Goal, list})
	if err != nil {
		return Chart{}, err
	}
	c.plot.marks = append(c.plot.marks,
		mark{nil, tongue.Sayf("worked better: %s", words.WaysInShort(r.Changes))},
		mark{nil, tongue.Sayf("all in the first %s trial seasons", words.Grouped(r.Seasons))})
	return c.plot.rows(c.Name, c.Alt, len(list)), nil
}
