package words

import (
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"drystalk/tongue"
)

var smallNumbers = []tongue.Text{"no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"}

func spelled(n int) string {
	if n < len(smallNumbers) {
		return smallNumbers[n].String()
	}
	return strconv.Itoa(n)
}

// Dryers writes a number of dryers: "1 dryer", "3 dryers".
func Dryers(n int) string {
	if n == 1 {
		return tongue.Say("1 dryer")
	}
	return tongue.Sayf("%d dryers", n)
}

// Where says how dryers are shared out: "two at Heron Point, one each at Old Sluice
// and Ferry Bank".
func Where(sites []string, perSite []int) string {
	most, all := 0, 0
	for _, n := range perSite {
		most, all = max(most, n), all+n
	}
	if all == 1 { // "1 dryer (at Heron Point)"
		return tongue.Sayf("at %s", sites[slices.Index(perSite, 1)])
	}
	var parts []string
	for n := most; n > 0; n-- {
		var at []string
		for i, k := range perSite {
			if k == n {
				at = append(at, sites[i])
			}
		}
		switch len(at) {
		case 0:
		case 1:
			parts = append(parts, tongue.Sayf("%s at %s", spelled(n), at[0]))
		default:
			parts = append(parts, tongue.Sayf("%s each at %s", spelled(n), And(at)))
		}
	}
	return strings.Join(parts, ", ")
}

// mostInWhere is how many words a place list in a sentence may have.
const mostInWhere = 13

// ShortWhere says how dryers are shared out in few words: as Where does, or by what most sites
// have, or by how many sites have some where that is still too long.
func ShortWhere(sites []string, perSite []int) string {
	for _, said := range []string{Where(sites, perSite), whereOthers(sites, perSite)} {
		if w, _ := Count(said); said != "" && w <= mostInWhere {
			return said
		}
	}
	some := 0
	for _, n := range perSite {
		if n > 0 {
			some++
		}
	}
	if some == len(sites) {
		return tongue.Sayf("at all %d sites, listed below", some)
	}
	return tongue.Sayf("at %d of %d sites, listed below", some, len(sites))
}

// whereOthers says how dryers are shared out, the sites that have what most have as "each other
// site"; "" where that is none.
func whereOthers(sites []string, perSite []int) string {
	count := map[int]int{}
	common := 0
	for _, n := range perSite {
		if count[n]++; count[n] > count[common] || count[n] == count[common] && n > common {
			common = n
		}
	}
	if common == 0 {
		return ""
	}
	rest := slices.Clone(perSite)
	var none []string
	for i, n := range perSite {
		switch n {
		case common:
			rest[i] = 0
		case 0:
			none = append(none, sites[i])
		}
	}
	parts := []string{}
	if said := Where(sites, rest); said != "" {
		parts = append(parts, said)
	}
	if len(none) > 0 {
		parts = append(parts, tongue.Sayf("none at %s", And(none)))
	}
	if len(parts) == 0 {
		return tongue.Sayf("%s at each site", spelled(common))
	}
	return strings.Join(append(parts, tongue.Sayf("%s at each other site", spelled(common))), ", ")
}

// Upper writes the first letter of a sentence large.
func Upper(s string) string {
	_, first := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:first]) + s[first:]
}

// lower writes the first letter of a sentence small.
func lower(s string) string {
	_, first := utf8.DecodeRuneInString(s)
	return strings.ToLower(s[:first]) + s[first:]
}

// And joins words to a list: "a, b and c".
func And(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	return tongue.Sayf("%s and %s", strings.Join(words[:len(words)-1], ", "), words[len(words)-1])
}

// Months writes a time given in months, as years from two years on.
func Months(x float64) string {
	switch n := Round(x); {
	case n == 1:
		return tongue.Say("1 month")
	case n < 24:
		return tongue.Sayf("%d months", n)
	}
	return tongue.Sayf("%.1f years", x/12)
}

// Term writes how long a loan runs, given in months: whole years as such.
func Term(months int) string {
	if months%12 == 0 {
		return Years(months / 12)
	}
	return Months(float64(months))
}

// ShortMonth writes the first letters of a month, whose name an answer holds in English: "Jul".
func ShortMonth(name string) string {
	letters := []rune(tongue.Month(name))
	return string(letters[:min(3, len(letters))])
}

// Date writes a day of a year in few letters: "1 Jul".
func Date(month time.Month, day int) string {
	return tongue.Sayf("%d %s", day, ShortMonth(month.String()))
}

// Years writes a number of years: "1 year", "8 years".
func Years(n int) string {
	if n == 1 {
		return tongue.Say("1 year")
	}
	return tongue.Sayf("%s years", Grouped(n))
}

func days(n int) string {
	if n == 1 {
		return tongue.Say("1 day")
	}
	return tongue.Sayf("%s days", Grouped(n))
}

// MonthName returns the name of a month, January being 0.
func MonthName(m int) string {
	return tongue.Months[m].String()
}

// OrNone writes the value of a key, or that it is not stated.
func OrNone(s string) string {
	if s == "" {
		return tongue.Say("not stated")
	}
	return s
}

// ended puts a full stop to a sentence that has none.
func ended(s string) string {
	if s == "" || strings.HasSuffix(s, ".") || strings.HasSuffix(s, ":") {
		return s
	}
	return s + "."
}

// LineLength is where text for a terminal is broken.
const LineLength = 110

// Wrapped breaks a text into lines between words.
func Wrapped(text string) string { return WrappedTo(text, LineLength) }

// WrappedTo breaks a text between words into lines of at most so many letters, where its words
// allow.
func WrappedTo(text string, length int) string {
	var b strings.Builder
	n := 0
	for _, word := range tongue.Words(text) {
		k := utf8.RuneCountInString(word)
		switch {
		case n == 0:
		case n+1+k > length:
			b.WriteByte('\n')
			n = 0
		default:
			b.WriteByte(' ')
			n++
		}
		b.WriteString(word)
		n += k
	}
	return b.String()
}
