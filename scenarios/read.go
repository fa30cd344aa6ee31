// Package scenarios reads a scenario file: strict YAML with the unit in each key,
// documented defaults, and one clear line for each thing that is wrong.
package scenarios

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"
	"time"

	"drystalk/sim"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// largest is the size of the largest file that is read, bytes.
const largest = 1 << 20

// Scenario is a file, read and checked.
type Scenario struct {
	Name        string   // of the file
	File        string   // as a command line names it: the file, or the demo
	Ways        string   // the file of ways of working that it was changed by first; "" for none
	Changes     []string // made since the file was read, as With takes them
	Region      sim.Region
	Base        sim.Parameters
	Knowledge   trials.Knowledge
	MaxDryers   []int // by site
	TargetOdds  float64
	Goal        goal.Goal // what the file states of every kind; Setup gives the one that is asked
	Invented    bool      // nobody's place: answers say so
	Currency    string
	NumbersAsIn string // language and country whose way of writing numbers answers use, a BCP 47 tag; "": 1,234.5
	Money       money.Prices
	HasMoney    bool // the file states prices
	Warnings    []string
	Hash        string // of what the file says, defaults included

	localWeather                // of the region: of all sites that state none of their own
	elsewhere    []namedWeather // by name, then of single sites
	weatherFrom  []int          // by site: 0 for the region's, else its place in elsewhere, from 1
	change       weather.Change // of the climate, by the user, everywhere
	nearby       float64        // correlation of rain between sites apart
	lengthKm     float64
	correlated   bool          // the two are stated or needed
	at           []coordinates // by site

	waysData      []byte // of the file of ways
	waysSaid      []string
	measuredFiles []measuredFile // of knowledge
	defaults      []Default
	warnings      []warning
}

// Default is a key that the file leaves out.
type Default struct {
	Key, Meaning, Value, Unit, Source string
}

// Read reads a scenario that names no other file. All faults of the file are reported
// at once, as Faults.
func Read(name string, data []byte) (*Scenario, error) { return ReadWith(name, data, nil) }

// ReadWith is Read with a way to open the files that a scenario names; nil for none.
func ReadWith(name string, data []byte, open func(name string) ([]byte, error)) (*Scenario, error) {
	r := &reader{file: name, open: open}
	if len(data) > largest {
		r.fault(1, "", tongue.Plainf("a file of %d bytes", len(data)), tongue.Plainf("at most %d bytes", largest))
		return nil, r.err()
	}
	data, ok := r.guard(data)
	if !ok {
		return nil, r.err()
	}
	root := r.parse(data)
	if root == nil {
		return nil, r.err()
	}
	return r.build(name, root)
}

// build makes a scenario of the keys of a file, or returns all that is wrong with them.
func (r *reader) build(name string, root *node) (*Scenario, error) {
	s := &Scenario{Name: name, File: name, Knowledge: trials.DefaultKnowledge(), Base: sim.DefaultParameters()}
	r.scenario(s, root)
	if err := r.err(); err != nil {
		return nil, err
	}
	s.setWarnings(r.warnings)
	s.Hash = ContentOf(slices.Concat(append([][]byte{s.Write()}, s.climates()...)...))
	return s, nil
}

// ContentOf returns the short hash by which answers name what a file says: two files with the same
// hash hold the same bytes.
func ContentOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// topKeys are the keys of the file itself.
var topKeys = []string{"region", "invented", "currency", "numbers_as_in", "season", "weather", "weathers", "contract", "hub", "dryer", "yard", "people", "stand", "trouble", "road", "store", "moves", "money", "luck", "knowledge", "sites"}

func (r *reader) scenario(s *Scenario, root *node) {
	r.known(root, "", topKeys)
	s.Region.Name = r.word(root, "", "region", true)
	s.Invented = r.invented(root)
	s.Currency = r.word(root, "", "currency", false)
	s.NumbersAsIn = r.numbersAsIn(root)
	r.season(s, r.section(root, "season", true))
	d := &draft{Scenario: s}
	r.fields(d, r.section(root, "hub", false), "hub", hubFields)
	r.fields(d, r.section(root, "dryer", false), "dryer", dryerFields)
	r.fields(d, r.section(root, "yard", false), "yard", yardFields)
	r.fields(d, r.section(root, "luck", false), "luck", luckFields)
	r.fields(d, r.section(root, "store", false), "store", storeFields)
	r.money(s, r.section(root, "money", false))
	r.people(d, r.section(root, "people", false))
	r.fields(d, r.section(root, "stand", false), "stand", standFields)
	r.fields(d, r.section(root, "trouble", false), "trouble", troubleFields)
	r.fields(d, r.section(root, "road", false), "road", roadFields)
	r.contract(s, r.section(root, "contract", true))
	r.weather(s, r.section(root, "weather", true))
	r.weathers(s, r.section(root, "weathers", false))
	r.knowledge(s, r.section(root, "knowledge", false))
	r.sites(s, r.section(root, "sites", true))
	r.moves(s, root.get("moves"))
	r.together(s, root)
}

// section returns a group of keys, an empty one where it is missing.
func (r *reader) section(parent *node, key string, required bool) *node {
	n := parent.get(key)
	if n == nil {
		if required && !parent.excused(key, topKeys) {
			r.fault(parent.line, key, tongue.Say("nothing"), tongue.Say("this group of keys is required"))
		}
		return nil
	}
	if n.kind != mapping {
		r.fault(n.line, key, describe(n), tongue.Say("a group of keys"))
		return nil
	}
	return n
}

// known books a fault for every key that is not known.
func (r *reader) known(n *node, path string, keys []string) {
	for i, k := range n.keys {
		if slices.Contains(keys, k) {
			continue
		}
		if n.partOfCount(i) {
			r.parted(n, path, i)
			continue
		}
		r.misnamed(n.values[i].line, join(path, k), tongue.Say("an unknown key"), k, keys)
	}
}

func describe(n *node) string {
	switch {
	case n.kind != scalar:
		return n.kind.String()
	case n.text == "" && !n.quoted:
		return "nothing"
	}
	if _, err := strconv.ParseFloat(n.text, 64); err == nil && !n.quoted {
		return n.text
	}
	return strconv.Quote(n.text)
}

// word reads a text.
func (r *reader) word(n *node, path, key string, required bool) string {
	v := n.get(key)
	if v == nil {
		if required {
			r.fault(n.line, join(path, key), tongue.Say("nothing"), tongue.Say("a name"))
		}
		return ""
	}
	if v.kind != scalar || v.text == "" || len(v.text) > 80 || strings.ContainsFunc(v.text, unprintable) {
		r.fault(v.line, join(path, key), describe(v), tongue.Say("a name of 1 to 80 letters on one line"))
		return ""
	}
	return v.text
}

func unprintable(c rune) bool { return !strconv.IsPrint(c) }

// plainNumbers is the language whose way of writing numbers answers use where none is stated.
const plainNumbers = "en"

const numbersAsInAllowed tongue.Text = "a language, and a country if need be, as a BCP 47 tag: en-IN for 13,22,350.5, fr for 1 322 350,5, pt-BR for 1.322.350,5"

// numbersAsIn reads the language and country whose way of writing numbers answers use.
func (r *reader) numbersAsIn(root *node) string {
	const key = "numbers_as_in"
	v := root.get(key)
	if v == nil {
		return ""
	}
	numerals, err := tongue.NumeralsOf(v.text)
	if v.kind != scalar || v.text == "" || err != nil {
		r.fault(v.line, key, describe(v), numbersAsInAllowed.String())
		return ""
	}
	r.points = numerals.PartsByPoint()
	if v.text == plainNumbers {
		return "" // as where nothing is stated, to the byte
	}
	return v.text
}

// invented reads whether the place and its numbers are made up, as those of the demos are.
func (r *reader) invented(root *node) bool {
	v := root.get("invented")
	if v == nil {
		return false
	}
	if v.kind != scalar || v.text != "true" && v.text != "false" {
		r.fault(v.line, "invented", describe(v), tongue.Say("true or false"))
	}
	return v.text == "true"
}

// fields reads a group of keys by their table. A missing key gets what stands in
// for it, which is listed among the defaults, or is a fault.
func (r *reader) fields(d *draft, n *node, path string, fields []field, others ...string) {
	if n == nil {
		n = &node{kind: mapping, line: 1}
	}
	r.known(n, path, keysOf(fields, others...))
	for i := range fields {
		f := &fields[i]
		key := join(path, f.key)
		v := n.get(f.key)
		switch {
		case v != nil:
			r.set(d, f, v, key)
		case f.missing == "":
			if !n.excused(f.key, keysOf(fields, others...)) {
				r.fault(n.line, key, tongue.Say("nothing"), f.allowed())
			}
		default:
			r.set(d, f, &node{text: f.missing, line: n.line}, key)
			d.defaults = append(d.defaults, Default{key, f.meaning.String(), f.missing, f.unit, f.source.String()})
		}
	}
}

// allowed says what a field takes.
func (f *field) allowed() string {
	switch {
	case f.flag != nil:
		return tongue.Say("true or false")
	case f.choice != nil:
		return strings.Join(f.choices, ", ")
	case f.whole != nil:
		return tongue.Plainf("a whole number from %s to %s", plain(f.low), plain(f.high))
	}
	return tongue.Plainf("a number from %s to %s", plain(f.low), plain(f.high))
}

// set stores one value.
func (r *reader) set(d *draft, f *field, v *node, key string) {
	switch {
	case f.flag != nil:
		if v.kind != scalar || v.quoted || (v.text != "true" && v.text != "false") {
			r.fault(v.line, key, describe(v), f.allowed())
			return
		}
		*f.flag(d) = v.text == "true"
	case f.choice != nil:
		at := slices.Index(f.choices, v.text)
		if v.kind != scalar || at < 0 {
			r.fault(v.line, key, describe(v), f.allowed())
			return
		}
		*f.choice(d) = at
	default:
		x, ok := r.number(v, key, f.low, f.high, f.whole != nil)
		if !ok {
			return
		}
		if f.usual != [2]float64{} && (x < f.usual[0] || x > f.usual[1]) {
			r.warn(v.line, key, "%s is outside the usual %s to %s (%s)", v.text, plain(f.usual[0]), plain(f.usual[1]), f.hint)
		}
		f.keep(d, x)
	}
}

var monthNames = []string{"jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"}

// date reads "1 mar".
func (r *reader) date(v *node, key string) (time.Month, int, bool) {
	allowed := tongue.Say(`a day and a month, such as "1 mar"`)
	day, month, _ := strings.Cut(strings.ToLower(v.text), " ")
	at := -1
	for i, name := range monthNames {
		if len(month) >= 3 && strings.HasPrefix(time.Month(i+1).String(), strings.ToUpper(month[:1])+month[1:]) && strings.HasPrefix(month, name) {
			at = i
		}
	}
	n, err := strconv.Atoi(day)
	if v.kind != scalar || at < 0 || err != nil || n < 1 || n > sim.DaysInMonth(time.Month(at+1)) {
		r.fault(v.line, key, describe(v), tongue.Plainf("%s, in a year without 29 February", allowed))
		return 0, 0, false
	}
	return time.Month(at + 1), n, true
}

func (r *reader) season(s *Scenario, n *node) {
	if n == nil {
		return
	}
	r.known(n, "season", []string{"start", "days"})
	c := &s.Region.Calendar
	if v := n.get("start"); v == nil {
		r.fault(n.line, "season.start", tongue.Say("nothing"), tongue.Say(`a day and a month, such as "1 mar"`))
	} else {
		c.StartMonth, c.StartDay, _ = r.date(v, "season.start")
	}
	if v := n.get("days"); v == nil {
		r.fault(n.line, "season.days", tongue.Say("nothing"), tongue.Say("a whole number from 1 to 365"))
	} else if x, ok := r.number(v, "season.days", 1, sim.DaysPerYear, true); ok {
		c.Days = int(x)
	}
}

// mostStalks is the most stalks of a month.
const mostStalks = 1e8

// byMonth reads numbers of stalks by month.
func (r *reader) byMonth(n *node, key string) map[time.Month]int {
	out := map[time.Month]int{}
	if n.kind != mapping {
		r.fault(n.line, key, describe(n), tongue.Say("months with stalks, such as {jul: 60000}"))
		return out
	}
	r.known(n, key, monthNames)
	for i, k := range n.keys {
		if at := slices.Index(monthNames, k); at >= 0 {
			if x, ok := r.number(n.values[i], join(key, k), 0, mostStalks, true); ok {
				out[time.Month(at+1)] = int(x)
			}
		}
	}
	return out
}

func (r *reader) contract(s *Scenario, n *node) {
	if n == nil {
		return
	}
	r.fields(&draft{Scenario: s}, n, "contract", contractFields, "stalks_per_month", "target_stock_stalks")
	c := &s.Region.Contract
	if v := n.get("stalks_per_month"); v == nil {
		r.fault(n.line, "contract.stalks_per_month", tongue.Say("nothing"), tongue.Say("months with stalks, such as {jul: 60000}"))
	} else {
		c.StalksByMonth = r.byMonth(v, "contract.stalks_per_month")
		r.inSeason(s, v, "contract.stalks_per_month")
	}
	if v := n.get("target_stock_stalks"); v != nil {
		c.TargetStock = r.byMonth(v, "contract.target_stock_stalks")
		r.inSeason(s, v, "contract.target_stock_stalks")
		return
	}
	most := 0
	for _, stalks := range c.StalksByMonth {
		most = max(most, stalks)
	}
	c.TargetStock = map[time.Month]int{}
	for _, span := range s.monthSpans() {
		c.TargetStock[span.Month] = most
	}
	s.defaults = append(s.defaults, Default{
		"contract.target_stock_stalks", tongue.Say("good stalks wanted ahead of the contract at the end of each month"),
		strconv.Itoa(most), "stalks", tongue.Say("assumption: one largest month ahead"),
	})
}

// monthSpans returns the months of the season, none where the season is a fault already.
func (s *Scenario) monthSpans() []sim.Span {
	if s.Region.Calendar.StartMonth == 0 {
		return nil
	}
	return s.Region.Calendar.Months()
}

// inSeason books a fault for each month outside the season.
func (r *reader) inSeason(s *Scenario, n *node, key string) {
	spans := s.monthSpans()
	for i, k := range n.keys {
		at := slices.Index(monthNames, k)
		in := len(spans) == 0 || slices.ContainsFunc(spans, func(m sim.Span) bool { return int(m.Month) == at+1 })
		if at >= 0 && !in {
			r.fault(n.values[i].line, join(key, k), tongue.Say("a month outside the season"), tongue.Say("months between season.start and its last day"))
		}
	}
}

// DayOf returns the day of the season, from 0, of a date such as "1 aug" or "1-aug".
func (s *Scenario) DayOf(date string) (int, error) {
	r := &reader{}
	month, dom, ok := r.date(&node{text: strings.ReplaceAll(date, "-", " ")}, "")
	if ok {
		c := s.Region.Calendar
		for d := range c.Days {
			if m, day := c.Date(d); m == month && day == dom {
				return d, nil
			}
		}
	}
	return 0, tongue.Errorf("found %q, allowed: a day of the season such as 1-aug", date)
}
