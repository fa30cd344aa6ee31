package words

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"drystalk/tongue"
)

// ordinals name the dryer that is added to some.
var ordinals = []tongue.Text{"", "a", "a second", "a third", "a fourth", "a fifth"}

// keyPhrases say in plain words what a key of a site is changed to; from and to are its numbers.
var keyPhrases = map[string]func(from, to float64) string{
	"dryers":            func(from, to float64) string { return moreDryers(int(from), int(to)) },
	"cutters":           moreOf("cutter", "cutters"),
	"crew":              moreOf("person in the crew", "people in the crew"),
	"open_rack_m2":      moreOf("m² of open rack", "m² of open rack"),
	"clear_roof_m2":     moreOf("m² of clear roof", "m² of clear roof"),
	"solid_roof_m2":     moreOf("m² of solid roof", "m² of solid roof"),
	"stand_m2":          moreOf("m² of standing plants", "m² of standing plants"),
	"loading_kg_per_m2": func(from, to float64) string { return tongue.Sayf("racks at %s", insteadOf("kg/m²")(from, to)) },
	"cutting_h_per_day": insteadOf("hours of cutting a day"),
	"longer_shift_h":    func(from, to float64) string { return longerShift(to - from) },
	"opening_stock_stalks": moreOf("stalk in stock at the start",
		"stalks in stock at the start"),
}

// switchPhrases say what is switched on.
var switchPhrases = map[string]tongue.Text{"sheets": "sheets over the racks", "sealed_store": "sealed bags in the store"}

// regionPhrases say in plain words what a key of the region is changed to.
var regionPhrases = map[string]func(from, to float64) string{
	"dryer.shift_end_h":        func(from, to float64) string { return longerShift(to - from) },
	"hub.opening_stock_stalks": moreOf("stalk in stock at the hub", "stalks in stock at the hub"),
	"dryer.set_temperature_c":  insteadOf("°C in the dryers"),
}

// moreDryers says how many dryers there are more or fewer.
func moreDryers(from, to int) string {
	switch {
	case to == from+1 && to < len(ordinals):
		return tongue.Sayf("%s dryer", ordinals[to].String())
	case to == from+1:
		return tongue.Say("one dryer more")
	case to == from-1:
		return tongue.Say("one dryer less")
	case to > from && from == 0:
		return tongue.Sayf("%d dryers", to)
	case to > from:
		return tongue.Sayf("%d dryers more", to-from)
	}
	return tongue.Sayf("%d dryers less", from-to)
}

// moreOf says how many there are more or fewer of something.
func moreOf(one, many tongue.Text) func(from, to float64) string {
	return func(from, to float64) string {
		what, word := many, tongue.Say("more")
		n := to - from
		if n < 0 {
			n, word = -n, tongue.Say("less")
		}
		if n == 1 {
			what = one
		}
		return Number(n) + " " + what.String() + " " + word
	}
}

// insteadOf says what a number was before.
func insteadOf(unit tongue.Text) func(from, to float64) string {
	return func(from, to float64) string {
		return tongue.Sayf("%s instead of %s %s", Number(to), Number(from), unit.String())
	}
}

// longerShift says by how much a shift is longer or shorter.
func longerShift(h float64) string {
	if h < 0 {
		return tongue.Sayf("a shift %s hours shorter", Number(-h))
	}
	if h == 1 {
		return tongue.Say("a shift one hour longer")
	}
	return tongue.Sayf("a shift %s hours longer", Number(h))
}

// phrase says a change in plain words, and where; ok is false where there are none for it.
func (c Change) phrase() (what, at string, ok bool) {
	if make, known := regionPhrases[c.Key]; known {
		from, to, ok := c.numbers()
		if !ok {
			return "", "", false
		}
		return make(from, to), "", true
	}
	dot := strings.LastIndex(c.Key, ".")
	if dot < 0 {
		return "", "", false
	}
	site, key := c.Key[:dot], c.Key[dot+1:]
	if said, known := switchPhrases[key]; known && c.B == "true" {
		return said.String(), site, true
	}
	make, known := keyPhrases[key]
	from, to, numbers := c.numbers()
	if !known || !numbers || strings.Contains(site, ".") || strings.Contains(site, "[") {
		return "", "", false
	}
	return make(from, to), site, true
}

// numbers returns both values of a change, what is not stated as nothing.
func (c Change) numbers() (from, to float64, ok bool) {
	value := func(s string) (float64, error) {
		if s == "" {
			return 0, nil
		}
		return strconv.ParseFloat(s, 64)
	}
	from, err := value(c.A)
	to, wrong := value(c.B)
	return from, to, err == nil && wrong == nil
}

// unnamed is what a change is called that has no plain words.
const unnamed tongue.Text = "the change"

// mostChanges is how many changes are named one by one.
const mostChanges = 2

// What names what the second plan has that the first has not: "a second dryer at Heron Point".
// The same change at several sites is said once. What has no plain words is "the change".
func (c Compared) What() string { return c.named(true) }

// mostInHeading is how many letters the name of a change may have in a heading.
const mostInHeading = 32

// Short is What without the places, for headings; what is too long for one is "the change".
func (c Compared) Short() string {
	if s := c.named(false); utf8.RuneCountInString(s) <= mostInHeading {
		return s
	}
	return unnamed.String()
}

func (c Compared) named(places bool) string {
	var kinds []string
	at := map[string][]string{}
	for _, change := range c.Changes {
		what, site, ok := change.phrase()
		if !ok {
			return unnamed.String()
		}
		if _, seen := at[what]; !seen {
			kinds = append(kinds, what)
		}
		at[what] = append(at[what], site)
	}
	if len(kinds) == 0 || len(kinds) > mostChanges {
		return unnamed.String()
	}
	var parts []string
	for _, what := range kinds {
		switch sites := at[what]; {
		case !places || sites[0] == "":
		case len(sites) <= 2:
			what += tongue.Sayf(" at %s", And(sites))
		default:
			what += tongue.Sayf(" at %d sites", len(sites))
		}
		parts = append(parts, what)
	}
	return And(parts)
}

// With heads what is said of the second plan: "with a second dryer".
func (c Compared) With() string { return tongue.Sayf("with %s", c.Short()) }

// Today heads what is said of the first plan.
func Today() string { return tongue.Say("today") }
