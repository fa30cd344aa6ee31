package tongue

import (
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// verb is a place of a format where an argument stands: which argument, from 1, and how it is
// written.
type verb struct {
	arg int
	how string
}

// verbs are the places of a format, without the flag of a space: "10 % of" holds none.
var verbs = regexp.MustCompile(`%([-+#0]*)(\[\d+\])?(\d*(?:\.\d+)?)(\[\d+\])?([vTtbcdoqxXUeEfFgGspw%])`)

// verbsOf returns the places of a format in their order.
func verbsOf(format string) []verb {
	var out []verb
	next := 1
	for _, m := range verbs.FindAllStringSubmatch(format, -1) {
		if m[5] == "%" {
			continue
		}
		if at := m[2] + m[4]; at != "" {
			next, _ = strconv.Atoi(strings.Trim(at, "[]"))
		}
		out = append(out, verb{next, "%" + m[1] + m[3] + m[5]})
		next++
	}
	return out
}

// fits tells what is wrong with the places of a translation: it must write the same arguments in the
// same way, in any order. "" where nothing is.
func fits(english, translation string) string {
	want, got := sortedVerbs(english), sortedVerbs(translation)
	if slices.Equal(want, got) {
		return ""
	}
	return fmt.Sprintf("found %s, allowed: %s, in any order; %%[2]s is the second", listed(got), listed(want))
}

func sortedVerbs(format string) []verb {
	out := verbsOf(format)
	slices.SortFunc(out, func(a, b verb) int {
		if a.arg != b.arg {
			return a.arg - b.arg
		}
		return strings.Compare(a.how, b.how)
	})
	return slices.Compact(out)
}

func listed(of []verb) string {
	var parts []string
	for _, v := range of {
		parts = append(parts, fmt.Sprintf("%s as argument %d", v.how, v.arg))
	}
	if len(parts) == 0 {
		return "no place for an argument"
	}
	return strings.Join(parts, ", ")
}
