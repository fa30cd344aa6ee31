package scenarios

import (
	"fmt"
	"strconv"
	"time"

	"drystalk/tongue"
)

// Entry is one number of a scenario as a form shows it.
type Entry struct {
	Path    string // "sites.Heron Point.dryers", "dryer.shift_end_h", "contract.stalks_per_month.jul"
	Key     string // its last part
	Meaning string // in a line
	Unit    string
	Low     float64 // allowed, both ends included
	High    float64
	Whole   bool     // a whole number
	Choices []string // for a choice; "true" and "false" for a switch
	Value   string   // as it stands
	Default string   // stands in where the key is missing; "" where it is required
	Source  string   // of the default

	english string // the meaning, as tables for other programs have it in every language
}

// EntryGroup is entries of one place of work.
type EntryGroup struct {
	Place   string // "water", "yard", "dryers", "store", "people", "buyer", "money", "weather"
	Site    string // "" for the region
	Entries []Entry
}

// places puts the groups of keys to the places of work, in the order of a form.
var places = []struct {
	place  string
	group  string
	fields []field
}{
	{"water", "stand", standFields},
	{"yard", "yard", yardFields},
	{"dryers", "dryer", dryerFields},
	{"people", "people", append(append([]field(nil), peopleFields...), plantingFields...)},
	{"store", "store", storeFields},
	{"store", "hub", hubFields},
	{"store", "road", roadFields},
	{"troubles", "trouble", troubleFields},
	{"buyer", "contract", contractFields},
}

// Entries returns the numbers of the scenario for a form, grouped by place of work: the sites
// first, then what they share.
func (s *Scenario) Entries() []EntryGroup {
	var out []EntryGroup
	for i := range s.Region.Sites {
		d := &draft{Scenario: s, site: &s.Region.Sites[i], maxDryers: &s.MaxDryers[i]}
		out = append(out, EntryGroup{"site", d.site.Name, entries(d, "sites."+d.site.Name, siteFields)})
	}
	d := &draft{Scenario: s}
	at := map[string]int{}
	for _, p := range places {
		list := entries(d, p.group, p.fields)
		if p.group == "contract" {
			list = append(s.monthEntries(), list...)
		}
		if k, seen := at[p.place]; seen {
			out[k].Entries = append(out[k].Entries, list...)
			continue
		}
		at[p.place] = len(out)
		out = append(out, EntryGroup{p.place, "", list})
	}
	if s.HasMoney {
		out = append(out, EntryGroup{"money", "", entries(d, "money", moneyFields)})
	}
	if s.climate != nil {
		out = append(out, EntryGroup{"weather", "", entries(d, "weather", climateFields)})
	}
	return out
}

func entries(d *draft, path string, fields []field) []Entry {
	var out []Entry
	for i := range fields {
		f := &fields[i]
		e := Entry{
			Path: join(path, f.key), Key: f.key, Meaning: f.meaning.String(), Unit: f.unit, Low: f.low, High: f.high, Whole: f.whole != nil,
			Choices: f.choices, Value: f.value(d), Default: f.missing, Source: f.source.String(), english: string(f.meaning),
		}
		if d.partsByPoint() {
			e.Value = unmistakable(e.Value)
		}
		if f.flag != nil {
			e.Choices = []string{"false", "true"}
		}
		out = append(out, e)
	}
	return out
}

// monthEntries are the stalks of the contract and the stock ahead by month.
func (s *Scenario) monthEntries() []Entry {
	var out []Entry
	for _, list := range []struct {
		key     string
		meaning tongue.Text
		stalks  map[time.Month]int
	}{
		{"stalks_per_month", "good stalks asked for in %s", s.Region.Contract.StalksByMonth},
		{"target_stock_stalks", "good stalks wanted ahead at the end of %s", s.Region.Contract.TargetStock},
	} {
		for _, span := range s.Region.Calendar.Months() {
			out = append(out, Entry{
				Path: "contract." + list.key + "." + monthNames[span.Month-1], Key: list.key, Meaning: tongue.Plainf(string(list.meaning), span.Month), english: fmt.Sprintf(string(list.meaning), span.Month), Unit: "stalks",
				High: mostStalks, Whole: true, Value: strconv.Itoa(list.stalks[span.Month]), Default: "0", Source: tongue.Say("the contract as written"),
			})
		}
	}
	return out
}
