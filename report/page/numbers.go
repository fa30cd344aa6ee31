package page

import (
	"regexp"
	"strings"
)

// How people write numbers, besides as the program does: with a comma for the decimal point, and
// with thousands apart.
var (
	spacedThousands = regexp.MustCompile(`^[+-]?\d{1,3}([ \x{a0}\x{202f}]\d{3})+([.,]\d+)?$`)
	commaThousands  = regexp.MustCompile(`^[+-]?[1-9]\d{0,2}(,\d{3})+(\.\d+)?$`)
	oneThousand     = regexp.MustCompile(`^[+-]?[1-9]\d{0,2},\d{3}$`)
	twoNumbers      = regexp.MustCompile(`^[+-]?\d{4,},\d{3,}$`)
	commaDecimal    = regexp.MustCompile(`^[+-]?\d*,\d+$`)
)

// plainNumber returns a number as the program reads it: "0,15" is 0.15, and "6 000" is 6000. What
// could be either, such as "1,500" where no whole number is asked for, or two numbers, such as
// "20000,40000", is ambiguous. Other text stays as it is, for the reader to refuse.
func plainNumber(text string, whole bool) (number string, ambiguous bool) {
	t := strings.TrimSpace(text)
	if spacedThousands.MatchString(t) {
		t = strings.NewReplacer(" ", "", "\u00a0", "", "\u202f", "").Replace(t)
	}
	switch {
	case oneThousand.MatchString(t) && !whole, twoNumbers.MatchString(t):
		return t, true
	case commaThousands.MatchString(t):
		return strings.ReplaceAll(t, ",", ""), false
	case commaDecimal.MatchString(t):
		return strings.Replace(t, ",", ".", 1), false
	}
	return t, false
}
