package scenarios

import (
	"fmt"
	"slices"
	"strconv"

	"drystalk/sim"
	"drystalk/tongue"
)

// mostEntries is how long a list in a scenario may be.
const mostEntries = 100

// list calls read for each entry of a list of groups of keys.
func (r *reader) list(n *node, key, example string, read func(entry *node, key string)) {
	if n == nil {
		return
	}
	if n.kind != sequence || len(n.values) > mostEntries {
		r.fault(n.line, key, describe(n), tongue.Plainf("a list of at most %d, such as [%s]", mostEntries, example))
		return
	}
	for i, v := range n.values {
		at := fmt.Sprintf("%s[%d]", key, i+1)
		if v.kind != mapping {
			r.fault(v.line, at, describe(v), tongue.Plainf("a group of keys, such as %s", example))
			continue
		}
		read(v, at)
	}
}

// span reads from and to of a spell within the season.
func (r *reader) span(s *Scenario, n *node, key string) (first, last int, ok bool) {
	first, okFirst := r.day(s, n, key, "from")
	last, okLast := r.day(s, n, key, "to")
	if !okFirst || !okLast {
		return 0, 0, false
	}
	if last < first {
		r.fault(n.line, join(key, "to"), describe(n.get("to")), tongue.Say("a day of the season not before from"))
		return 0, 0, false
	}
	return first, last, true
}

// day reads a date as a day of the season.
func (r *reader) day(s *Scenario, n *node, path, key string) (int, bool) {
	v := n.get(key)
	if v == nil {
		r.fault(n.line, join(path, key), tongue.Say("nothing"), tongue.Say(`a day of the season, such as "10 apr"`))
		return 0, false
	}
	if s.Region.Calendar.Days == 0 || s.Region.Calendar.StartMonth == 0 {
		return 0, false // a fault already
	}
	if _, _, ok := r.date(v, join(path, key)); !ok {
		return 0, false
	}
	d, err := s.DayOf(v.text)
	if err != nil {
		r.fault(v.line, join(path, key), describe(v), tongue.Say("a day between season.start and the last day of the season"))
		return 0, false
	}
	return d, true
}

// fraction reads a key from 0 to 1; where it is missing, missing stands in.
func (r *reader) fraction(n *node, path, key string, missing float64) float64 {
	v := n.get(key)
	if v == nil {
		return missing
	}
	x, _ := r.number(v, join(path, key), 0, 1, false)
	return x
}

func (r *reader) people(d *draft, n *node) {
	r.fields(d, n, "people", append(append([]field(nil), peopleFields...), plantingFields...), "away")
	if n == nil {
		return
	}
	r.list(n.get("away"), "people.away", "{from: 10 apr, to: 16 apr, fraction: 1, name: new year}", func(v *node, key string) {
		r.known(v, key, []string{"from", "to", "fraction", "name"})
		if first, last, ok := r.span(d.Scenario, v, key); ok {
			d.Region.People.Away = append(d.Region.People.Away, sim.Away{
				Name: r.word(v, key, "name", false), FirstDay: first, LastDay: last, Fraction: r.fraction(v, key, "fraction", 1),
			})
		}
	})
}

func (r *reader) closures(d *draft, n *node, key string) {
	r.list(n, key, "{from: 1 jul, to: 31 oct, why: sprayed}", func(v *node, key string) {
		r.known(v, key, []string{"from", "to", "why", "removed_fraction"})
		if first, last, ok := r.span(d.Scenario, v, key); ok {
			d.site.Closed = append(d.site.Closed, sim.Closure{
				Why: r.word(v, key, "why", true), FirstDay: first, LastDay: last, Removed: r.fraction(v, key, "removed_fraction", 0),
			})
		}
	})
}

// dearestMove is the most that a move may cost.
const dearestMove = 1e9

// moves reads the dryers that are taken from one site to another in the season.
func (r *reader) moves(s *Scenario, n *node) {
	left := map[string]int{}
	for i := range s.Region.Sites {
		left[s.Region.Sites[i].Name] = s.Region.Sites[i].Dryers
	}
	r.list(n, "moves", "{from: Heron Point, to: Old Sluice, on: 1 jul, days_lost: 4, cost: 100}", func(v *node, key string) {
		r.known(v, key, []string{"from", "to", "on", "days_lost", "cost"})
		m := sim.Move{From: r.word(v, key, "from", true), To: r.word(v, key, "to", true)}
		for _, end := range []struct{ key, name string }{{"from", m.From}, {"to", m.To}} {
			if _, known := left[end.name]; end.name != "" && !known {
				r.fault(v.line, join(key, end.key), strconv.Quote(end.name), tongue.Say("the name of a site"))
				return
			}
		}
		if m.From == m.To && m.From != "" {
			r.fault(v.line, join(key, "to"), strconv.Quote(m.To), tongue.Say("another site than from"))
			return
		}
		var ok bool
		if m.Day, ok = r.day(s, v, key, "on"); !ok {
			return
		}
		lost := v.get("days_lost")
		if lost == nil {
			r.fault(v.line, join(key, "days_lost"), tongue.Say("nothing"), tongue.Say("days until the dryer works at its new site"))
			return
		}
		if x, ok := r.number(lost, join(key, "days_lost"), 0, sim.DaysPerYear, true); ok {
			m.DaysLost = int(x)
		}
		if cost := v.get("cost"); cost != nil {
			x, _ := r.number(cost, join(key, "cost"), 0, dearestMove, false)
			m.Cost = sim.AmountOf(x)
		}
		if left[m.From]--; left[m.From] < 0 && m.From != "" { // no from is a fault already
			r.fault(v.line, join(key, "from"), strconv.Quote(m.From), tongue.Say("a site with a dryer left to move (state dryers there)"))
			return
		}
		s.Region.Moves = append(s.Region.Moves, m)
	})
}

// writeLists returns the lists of the file for the reader of Explain.
func (s *Scenario) writeLists() []string {
	out := []string{
		tongue.Plainf("people.away (spells in which cutters are away; default none): %s", listText(s.awayTree())),
		tongue.Plainf("moves (dryers taken from one site to another; default none): %s", listText(s.movesTree())),
	}
	for i := range s.Region.Sites {
		if list := listText(s.closedTree(&s.Region.Sites[i])); list != "" {
			out = append(out, "sites."+s.Region.Sites[i].Name+".closed: "+list)
		}
	}
	return slices.Clip(out)
}

// listText writes a list on one line, "" where it is empty.
func listText(list *node) string {
	if len(list.values) == 0 {
		return ""
	}
	return list.inline()
}

// currency returns the name of the currency.
func (s *Scenario) currency() string {
	if s.Currency == "" {
		return tongue.Say("the currency of the region")
	}
	return s.Currency
}
