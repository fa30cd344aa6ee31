package page

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"drystalk/scenarios"
)

// group is the number fields of one place of work.
type group struct {
	scenarios.EntryGroup
	Title    string
	Why      string
	Open     bool    // shown at once
	Fields   []field // those that most plans change
	Rest     []field
	RestOpen bool
}

// field is one number field, as a sentence around its number.
type field struct {
	scenarios.Entry
	Before, After string // the number
	Label         string // of the field where it stands alone
	Today         string // as it is today
	Now           string // as entered
	Changed       bool   // against today
	Fault         string
}

// siteTable is the numbers of several sites, a row for each number and a column for each site.
type siteTable struct {
	Sites []string
	Main  []siteRow
	Rest  []siteRow
	Open  bool // the rest too
}

// siteRow is one number of all sites.
type siteRow struct {
	Key, Title, Unit string
	Field            field // of the first site, for what is allowed
	Cells            []field
}

// mainKeys are the numbers most plans change; they are shown at once, the rest on demand.
var mainKeys = map[string]bool{
	"cutters": true, "stalks_per_person_h": true, "open_rack_m2": true, "clear_roof_m2": true, "dryers": true, "sheets": true, "sealed_store": true, "longer_shift_h": true,
	"stalks_per_month": true, "shift_end_h": true, "holds_stalks_fresh": true, "price_per_good_stalk": true, "dryer_cost": true, "wood_per_kg": true, "wood_in_rains_per_kg": true,
	"pay_per_stalk_cut": true, "wage_per_h": true, "grant_fraction": true, "loan_fraction": true, "opening_stock_stalks": true, "collections_per_month": true,
}

// layout lays out the numbers of a plan beside today: several sites in one table, the rest by place
// of work; the numbers of a weather too, or not, where it was chosen and today and the plan share it.
func (s *Server) layout(today, now *scenarios.Scenario, numbers bool) (*siteTable, []group) {
	before := map[string]string{}
	for _, e := range entriesOf(today) {
		before[e.Path] = e.Value
	}
	var table *siteTable
	if len(now.Region.Sites) > 1 {
		table = &siteTable{}
	}
	var groups []group
	for _, g := range now.Entries() {
		if g.Place == "weather" && !numbers {
			continue
		}
		out := group{EntryGroup: g, Title: s.text.Places[g.Place].String(), Why: s.text.PlaceWhy[g.Place].String()}
		var fields []field
		for _, e := range g.Entries {
			f := s.field(&g, e, before[e.Path], now.Currency)
			fields = append(fields, f)
			if mainKeys[e.Key] {
				out.Fields = append(out.Fields, f)
			} else {
				out.Rest = append(out.Rest, f)
				out.RestOpen = out.RestOpen || f.Changed
			}
			out.Open = out.Open || f.Changed
		}
		if g.Site != "" {
			out.Title, out.Open = out.Title+": "+g.Site, true
			if table != nil {
				table.add(g.Site, fields)
				continue
			}
		}
		if len(out.Fields) == 0 {
			out.Fields, out.Rest, out.RestOpen = out.Rest, nil, false
		}
		groups = append(groups, out)
	}
	return table, groups
}

// field lays out one number as a sentence.
func (s *Server) field(g *scenarios.EntryGroup, e scenarios.Entry, today, currency string) field {
	f := field{Entry: e, Today: today, Now: e.Value, Changed: today != e.Value, Label: s.labelOf(g, &e, currency)}
	f.Before, f.After = s.sentence(g, &e, currency)
	return f
}

// add adds the column of a site.
func (t *siteTable) add(site string, fields []field) {
	t.Sites = append(t.Sites, site)
	main, rest := 0, 0
	for _, f := range fields {
		rows, k := &t.Rest, &rest
		if mainKeys[f.Key] {
			rows, k = &t.Main, &main
		}
		if *k == len(*rows) {
			*rows = append(*rows, siteRow{Key: f.Key, Title: f.Before, Unit: f.After, Field: f})
		}
		(*rows)[*k].Cells = append((*rows)[*k].Cells, f)
		t.Open = t.Open || f.Changed && rows == &t.Rest
		*k++
	}
}

// sentence returns what stands before and after a number: the sentence of its key where the words
// have one, otherwise its meaning and its unit.
func (s *Server) sentence(g *scenarios.EntryGroup, e *scenarios.Entry, currency string) (before, after string) {
	section, _, _ := strings.Cut(e.Path, ".")
	if g.Site != "" {
		section = "site"
	}
	if said, ok := s.text.Sentences[section+"."+e.Key]; ok {
		before, after, _ = strings.Cut(strings.ReplaceAll(said.String(), "{money}", currency), "{}")
		return strings.TrimSpace(before), strings.TrimSpace(after)
	}
	return upperFirst(squared(e.Meaning)), squared(s.unitOf(e))
}

// unitOf returns the unit of a number, that of a part of a whole where the scenario has none.
func (s *Server) unitOf(e *scenarios.Entry) string {
	if e.Unit != "" || len(e.Choices) > 0 {
		return scenarios.InWords(e.Unit)
	}
	for _, one := range s.text.UnitsByEnd {
		if strings.Contains(e.Key, one.part) {
			return one.unit.String()
		}
	}
	return ""
}

// squared writes square metres as people do.
func squared(text string) string { return strings.ReplaceAll(text, "m2", "m²") }

// labelOf names a number where it stands alone.
func (s *Server) labelOf(g *scenarios.EntryGroup, e *scenarios.Entry, currency string) string {
	before, after := s.sentence(g, e, currency)
	label, alone := strings.CutSuffix(before, ":")
	if !alone && after != "" {
		label += " … " + after
	}
	if g.Site != "" {
		return g.Site + ": " + label
	}
	return label
}

func upperFirst(text string) string {
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + text[n:]
}
