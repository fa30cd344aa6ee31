package tongue

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"golang.org/x/text/language"
	"golang.org/x/text/language/display"
	"golang.org/x/text/message"
	"golang.org/x/text/number"
)

// Numerals are the marks with which numbers are written: 1,322,350.5 or 1.322.350,5 or 13,22,350.5.
type Numerals struct {
	group       string // between groups of digits; "" where there are none
	last, other int    // digits of the last group, and of those before it
	decimal     string
}

// plainNumerals are those of every number where nothing else is asked for.
var plainNumerals = Numerals{group: ",", last: 3, other: 3, decimal: "."}

// numerals are those in use, with the tag that they were asked for by; nil: plainNumerals.
var numerals atomic.Pointer[tagged]

type tagged struct {
	tag string
	Numerals
}

// WriteNumbersAsIn makes numbers of all texts be written as in a language and country from now on, a
// BCP 47 tag; "" is as ever. It fails where the tag is none, or of a language or country
// that the Unicode CLDR does not know. JSON, CSV and the cells of spreadsheets are never written
// by it.
func WriteNumbersAsIn(tag string) error {
	if tag == "" {
		numerals.Store(nil)
		return nil
	}
	n, err := NumeralsOf(tag)
	if err == nil {
		numerals.Store(&tagged{tag, n})
	}
	return err
}

// turn is whose turn it is to write numbers: of all who write at a time, each writes them alike.
var turn struct {
	door sync.Mutex // one at a time comes in, and those who come later wait behind it
	in   sync.WaitGroup
}

// WithNumbersAsIn does what writes texts with numbers written as in a language and country, whoever
// writes others meanwhile in another way: who writes them alike does so at once, others wait for
// their turn. So a program that answers several people gives each numbers of their own. It fails
// as WriteNumbersAsIn does, which such a program does not use, and must not be called from within
// itself; what it does should be short and wait for nobody.
func WithNumbersAsIn(tag string, write func()) error {
	turn.door.Lock()
	if tag != asInUse() {
		turn.in.Wait()
		if err := WriteNumbersAsIn(tag); err != nil {
			turn.door.Unlock()
			return err
		}
	}
	turn.in.Add(1)
	turn.door.Unlock()
	defer turn.in.Done()
	write()
	return nil
}

// NumeralsOf returns how numbers are written in a language and country, as the Unicode CLDR has it,
// but in the digits 0 to 9 and with spaces that no line is broken at.
func NumeralsOf(tag string) (Numerals, error) {
	t, err := language.Parse(tag)
	if err != nil {
		return Numerals{}, fmt.Errorf("numbers as in %q: %w", tag, err)
	}
	base, _ := t.Base()
	if !slices.Contains(display.Supported.BaseLanguages(), base) {
		return Numerals{}, fmt.Errorf("numbers as in %q: nothing is known of that language", tag)
	}
	if _, _, place := t.Raw(); display.English.Regions().Name(place) == "" || strings.HasSuffix(strings.ToUpper(tag), "-ZZ") {
		return Numerals{}, fmt.Errorf("numbers as in %q: nothing is known of that country", tag)
	}
	if t, err = t.SetTypeForKey("nu", "latn"); err != nil {
		return Numerals{}, fmt.Errorf("numbers as in %q: %w", tag, err)
	}
	return readOff(message.NewPrinter(t).Sprint(number.Decimal(1234567890.5, number.Scale(1)))), nil
}

// PartsByPoint tells whether thousands are parted by a point: 7.000 is seven thousand then.
func (n Numerals) PartsByPoint() bool { return n.group == "." }

// readOff reads the marks off a number with ten digits and a decimal.
func readOff(sample string) Numerals {
	digits := []int{0} // of each group
	var marks []string
	for _, c := range sample {
		switch at := len(digits) - 1; {
		case unicode.IsDigit(c):
			digits[at]++
		case digits[at] == 0: // a mark of several signs
			marks[at-1] += unbroken(c)
		default:
			marks, digits = append(marks, unbroken(c)), append(digits, 0)
		}
	}
	n := len(marks)
	out := Numerals{decimal: marks[n-1]}
	if n > 2 {
		out.group, out.last, out.other = marks[0], digits[n-1], digits[n-2]
	}
	return out
}

// unbroken is a mark as it is written: spaces of every kind as the one that no line is broken at.
func unbroken(c rune) string {
	if unicode.IsSpace(c) {
		return "\u00a0"
	}
	return string(c)
}

// inNumerals are the numerals in use.
func inNumerals() Numerals {
	if n := numerals.Load(); n != nil {
		return n.Numerals
	}
	return plainNumerals
}

// asInUse returns by which tag numbers are written; "" as ever.
func asInUse() string {
	if n := numerals.Load(); n != nil {
		return n.tag
	}
	return ""
}

// Grouped writes a whole number with thousands apart.
func Grouped(n int) string {
	digits, sign := strconv.Itoa(n), ""
	if n < 0 {
		sign, digits = "-", digits[1:]
	}
	in := inNumerals()
	if in.group == "" {
		return sign + digits
	}
	for at, size := len(digits), in.last; at > size; size = in.other {
		at -= size
		digits = digits[:at] + in.group + digits[at:]
	}
	return sign + digits
}

// Decimal writes the number that a text holds with the decimal mark in use: "0.15", "+1.2e+06".
func Decimal(number string) string {
	n := numerals.Load()
	if n == nil || n.decimal == "." {
		return number
	}
	return strings.Replace(number, ".", n.decimal, 1)
}

// decimals is a number with decimals that formats with the decimal mark in use.
type decimals float64

// Format writes the number as a verb says.
func (d decimals) Format(f fmt.State, verb rune) {
	_, _ = fmt.Fprint(f, Decimal(fmt.Sprintf(fmt.FormatString(f, verb), float64(d))))
}

// Figures formats numbers alone, such as "%.1f", with the decimal mark in use.
func Figures(format string, numbers ...any) string { return fmt.Sprintf(format, marked(numbers)...) }

// marked makes numbers with decimals among arguments format with the decimal mark in use.
func marked(args []any) []any {
	if numerals.Load() == nil {
		return args
	}
	out := slices.Clone(args)
	for i, a := range out {
		if x, ok := a.(float64); ok {
			out[i] = decimals(x)
		}
	}
	return out
}

// Words are the pieces of a text between which a line may be broken: a number with spaces in it is one.
func Words(text string) []string {
	return strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == '\n' || c == '\t' })
}
