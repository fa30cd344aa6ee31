package answers

import (
	"regexp"
	"strconv"
	"strings"

	"drystalk/tongue"
)

// Lists of numbers, as an option takes them.

var (
	// groups are numbers whose commas may part thousands as well as a list: 5,500.
	groups = regexp.MustCompile(`^[1-9]\d{0,2}(,\d{3})+$`)
	// pointed is a number whose point may part thousands as well as decimals: 5.500.
	pointed = regexp.MustCompile(`^[1-9]\d{0,2}\.\d{3}$`)
)

// ReadList reads the numbers of an option, parted by commas: 5000,10000. What may be read in two
// ways, such as 5,500 or 5.500, is a [Fault] of the option, and so is what is no number.
func ReadList(flag, text string) ([]float64, error) {
	text = strings.TrimSpace(text)
	if groups.MatchString(text) {
		allowed := strings.ReplaceAll(text, ",", "")
		if !strings.Contains(text, ",0") { // 000 is no number of a list
			allowed += tongue.Plainf(", or %q with a space behind each comma", strings.ReplaceAll(text, ",", ", "))
		}
		return nil, Fault{flag, tongue.Plainf("found %q, which may be one number or several, allowed: %s", text, allowed)}
	}
	var list []float64
	for _, one := range strings.Split(text, ",") {
		one = strings.TrimSpace(one)
		x, err := strconv.ParseFloat(one, 64)
		if err != nil {
			return nil, Fault{flag, tongue.Plainf("found %q, allowed: a number without thousands apart, such as 5500, or several, such as 5000,10000", one)}
		}
		if pointed.MatchString(one) {
			return nil, Fault{flag, tongue.Plainf("found %q, whose point may part thousands, allowed: %s, or %s", one, strings.Replace(one, ".", "", 1), listed([]float64{x}))}
		}
		list = append(list, x)
	}
	return list, nil
}

// listed writes numbers as [ReadList] reads them.
func listed(numbers []float64) string {
	var list []string
	for _, x := range numbers {
		one := strconv.FormatFloat(x, 'g', -1, 64)
		if pointed.MatchString(one) {
			one += "0"
		}
		list = append(list, one)
	}
	text := strings.Join(list, ",")
	if groups.MatchString(text) {
		return strings.Join(list, ", ")
	}
	return text
}
