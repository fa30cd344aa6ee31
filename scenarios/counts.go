package scenarios

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// Numbers of a file, and counts of stalks that a clerk writes down: whole, without marks, and no more
// than there can be.

// most is the most stalks that a count may be, and what says so.
type most struct {
	stalks int
	of     string // what holds or asks for so many, such as "what its dryers hold"
}

// allowed says what may be written, after "a whole number" or how else a count is called.
func (m most) allowed() string {
	if m.stalks == 0 {
		return "0, " + m.of
	}
	return tongue.Plainf("a whole number from 0 to %d, %s", m.stalks, m.of)
}

// marked are digits with marks between them: 118.000, 118,000, 1'118'000, 118_000, 90.5.
var marked = regexp.MustCompile(`^\d+([.,'_ ]\d+)+$`)

// thousands are digits whose marks all part thousands.
var thousands = regexp.MustCompile(`^\d{1,3}([.,'_ ]\d{3})+$`)

// withoutMarks says how a count with marks is written, where it is one: of 118.000 nobody knows whether
// 118 or 118000 is meant, so that it is not read at all.
func withoutMarks(text string) (allowed string, ok bool) {
	if !marked.MatchString(text) {
		return "", false
	}
	such := text[:strings.IndexAny(text, ".,'_ ")]
	if thousands.MatchString(text) {
		such = strings.Join(strings.FieldsFunc(text, func(c rune) bool { return c < '0' || c > '9' }), "")
	}
	return tongue.Plainf("a whole number without marks, such as %s", such), true
}

// digits tells whether a text holds digits alone.
func digits(text string) bool { return text != "" && strings.Trim(text, "0123456789") == "" }

// partOfCount tells whether a key of a group on one line is the end of the count before it, parted by a
// comma for thousands: {good_stalks: 118,000} holds the key 000.
func (n *node) partOfCount(i int) bool {
	return i > 0 && digits(n.keys[i]) && n.values[i].kind == scalar && n.values[i].text == "" && n.values[i-1].kind == scalar
}

// parted books the fault of a count that a comma parts in two keys.
func (r *reader) parted(n *node, path string, i int) {
	text := n.values[i-1].text + "," + n.keys[i]
	allowed, ok := withoutMarks(text)
	if !ok {
		allowed = tongue.Say("one value of a key, without a comma in it")
	}
	r.fault(n.values[i].line, join(path, n.keys[i-1]), text, allowed)
}

// counted reads a count that must be there: what is not counted is not nothing.
func (r *reader) counted(n *node, path, key string, m most) int {
	v := n.get(key)
	if v == nil {
		r.fault(n.line, join(path, key), tongue.Say("nothing"), tongue.Plainf("a whole number from 0 to %d; write 0 where there is none", m.stalks))
		return 0
	}
	if allowed, ok := withoutMarks(v.text); ok && v.kind == scalar {
		r.fault(v.line, join(path, key), describe(v), allowed)
		return 0
	}
	x, ok := r.number(v, join(path, key), 0, float64(m.stalks), true)
	if !ok {
		r.faults[len(r.faults)-1].Allowed = m.allowed()
	}
	return int(x)
}

// monthsAhead is how many of the largest months of the contract may lie in one place at most: more is
// kg, bundles of another count, or a slip. Assumption: a season of 20 months.
const monthsAhead = 20

// plausible returns the most stalks that may lie in a place that states no room.
func (s *Scenario) plausible() most {
	largest := 0
	for _, asked := range s.Region.Contract.StalksByMonth {
		largest = max(largest, asked)
	}
	if largest == 0 || largest > mostStalks/monthsAhead {
		return most{mostStalks, tongue.Say("in any place")}
	}
	return most{monthsAhead * largest, tongue.Plainf("%d times the largest month of the contract", monthsAhead)}
}

// askedOn returns what the contract asks in the month of a day.
func (s *Scenario) askedOn(day int) most {
	month, _ := s.Region.Calendar.Date(day)
	return most{s.Region.Contract.StalksByMonth[month], tongue.Plainf("what the contract asks for in %s", month.String())}
}

// storeHolds returns the most stalks that may lie in the store of a site.
func (s *Scenario) storeHolds(i int) most {
	if stalks := s.Region.Sites[i].StoreStalks; stalks > 0 {
		return most{stalks, tongue.Say("what its store holds")}
	}
	return s.plausible()
}

// dryersHold returns the most stalks that may wait in the dryers of a site.
func (s *Scenario) dryersHold(i int) most {
	return most{s.Region.Sites[i].Dryers * max(s.Region.Dryer.HoldsFresh, s.Region.Dryer.HoldsPredried), tongue.Say("what its dryers hold")}
}

// pointed are digits with a point that may part thousands: 7.000, -118.250.
var pointed = regexp.MustCompile(`^-?[1-9]\d{0,2}\.\d{3}$`)

// inTwoWays says how a number is written whose point may part thousands as well as decimals, where
// both are within the limits of its key: of 7.000 nobody knows whether 7 or 7000 is meant.
func inTwoWays(text string, low, high float64) (allowed string, is bool) {
	if !pointed.MatchString(text) {
		return "", false
	}
	whole := strings.Replace(text, ".", "", 1)
	thousands, _ := strconv.ParseFloat(whole, 64) // digits, by pointed
	decimal, _ := strconv.ParseFloat(text, 64)
	if min(thousands, decimal) < low || max(thousands, decimal) > high {
		return "", false
	}
	return tongue.Plainf("%s or %s, whichever is meant: its point may part thousands", whole, unmistakable(plain(decimal))), true
}

// unmistakable writes a number so that its point cannot be one that parts thousands.
func unmistakable(number string) string {
	if pointed.MatchString(number) {
		return number + "0"
	}
	return number
}

// pointsUnmistakable writes all numbers of a group so that no point can be one that parts thousands.
func (n *node) pointsUnmistakable() {
	for _, v := range n.values {
		v.pointsUnmistakable()
	}
	if n.kind == scalar && !n.quoted {
		n.text = unmistakable(n.text)
	}
}

// number reads a finite number within limits.
func (r *reader) number(v *node, key string, low, high float64, whole bool) (float64, bool) {
	what := tongue.Say("a number")
	if whole {
		what = tongue.Say("a whole number")
	}
	allowed := tongue.Plainf("%s from %s to %s", what, plain(low), plain(high))
	if whole && v.kind == scalar && thousands.MatchString(v.text) {
		bare, _ := withoutMarks(v.text)
		r.fault(v.line, key, describe(v), bare)
		return 0, false
	}
	if allowed, is := inTwoWays(v.text, low, high); is && r.points && v.kind == scalar && !v.quoted {
		r.fault(v.line, key, describe(v), allowed)
		return 0, false
	}
	x, err := strconv.ParseFloat(v.text, 64)
	if v.kind != scalar || v.quoted || err != nil || math.IsNaN(x) || math.IsInf(x, 0) ||
		strings.ContainsAny(v.text, "xX_pP") || (whole && x != math.Trunc(x)) || x < low || x > high {
		r.fault(v.line, key, describe(v), allowed)
		return 0, false
	}
	return x, true
}

func plain(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
