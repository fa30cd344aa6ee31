package answers

import (
	"errors"
	"fmt"
	"reflect"
	"strconv"
	"strings"
	"unicode"

	"drystalk/tongue"
)

// Numbers are the options of every question that runs many seasons.
type Numbers struct {
	Seasons int `default:"1000" least:"30" most:"1000000" help:"Seasons behind every figure, at least 30."`
	Workers int `default:"0" least:"0" most:"256" silent:"" help:"Seasons run side by side; 0 for one on each processor. The numbers do not depend on it."`
}

// EnoughSeasons is the number of seasons below which intervals of means are too narrow.
const EnoughSeasons = 100

// Option is one option of a question: a field of its options, described by its tags.
//
//	default  what it is unless stated; without the tag, nothing
//	least    the smallest number allowed
//	above    the number that must be passed
//	most     the largest number allowed
//	atmost   how many numbers a list of them may hold
//	unset    the number that stands for "not stated", allowed besides
//	silent   the numbers of an answer do not depend on it
//	with     the flag without which they do not depend on it either
//	help     its words
//	name     its flag, where that is not the field's name
type Option struct {
	Flag    string // on the command line, without its dashes
	Default string // "" for none
	Help    string
	Silent  bool   // the numbers do not depend on it
	Switch  bool   // stated or not, without a value
	With    string // the flag without which the numbers do not depend on it either; "" for none

	least, most, above, unset, atMost string
	value                             reflect.Value
}

// OptionsOf returns the options of a question in the order of its struct, to be read, changed
// and checked one by one. It takes a pointer to the options.
func OptionsOf(options any) []Option {
	var out []Option
	for _, f := range reflect.VisibleFields(reflect.TypeOf(options).Elem()) {
		if f.Anonymous || f.Tag.Get("kong") == "-" {
			continue
		}
		_, silent := f.Tag.Lookup("silent")
		o := Option{
			Flag: f.Tag.Get("name"), Default: f.Tag.Get("default"), Help: f.Tag.Get("help"), Silent: silent,
			least: f.Tag.Get("least"), above: f.Tag.Get("above"), most: f.Tag.Get("most"), unset: f.Tag.Get("unset"), atMost: f.Tag.Get("atmost"),
			value: reflect.ValueOf(options).Elem().FieldByIndex(f.Index),
		}
		o.Switch, o.With = o.value.Kind() == reflect.Bool, f.Tag.Get("with")
		if o.Flag == "" {
			o.Flag = dashed(f.Name)
		}
		out = append(out, o)
	}
	return out
}

// dashed writes the name of a field as a flag: StockAt becomes stock-at.
func dashed(name string) string {
	var b strings.Builder
	for i, c := range name {
		if i > 0 && unicode.IsUpper(c) {
			b.WriteByte('-')
		}
		b.WriteRune(unicode.ToLower(c))
	}
	return b.String()
}

// AtMost returns the option with another largest number, for a program that allows less.
func (o Option) AtMost(most int) Option {
	o.most = strconv.Itoa(most)
	return o
}

// Value returns the option as a command line states it; "" for a switch that is not on.
func (o *Option) Value() string {
	switch o.value.Kind() {
	case reflect.Bool:
		if !o.value.Bool() {
			return ""
		}
		return "true"
	case reflect.Float64:
		return strconv.FormatFloat(o.value.Float(), 'g', -1, 64)
	case reflect.Int:
		return strconv.FormatInt(o.value.Int(), 10)
	case reflect.Uint64:
		return strconv.FormatUint(o.value.Uint(), 10)
	case reflect.Slice:
		return listed(o.numbers())
	}
	return o.value.String()
}

// numbers are those of a list.
func (o *Option) numbers() []float64 { return o.value.Interface().([]float64) }

// Set reads the option from text and checks it. What is wrong with it is a [Fault], and the
// option keeps its value.
func (o *Option) Set(text string) error {
	before := reflect.New(o.value.Type()).Elem()
	before.Set(o.value)
	if err := o.read(strings.TrimSpace(text)); err != nil {
		var twoWays Fault
		if errors.As(err, &twoWays) {
			return err
		}
		return Fault{o.Flag, tongue.Plainf("found %q, allowed: %s", text, o.Allowed())}
	}
	if err := o.check(); err != nil {
		o.value.Set(before)
		return err
	}
	return nil
}

// read reads the option from text.
func (o *Option) read(text string) error {
	switch o.value.Kind() {
	case reflect.Bool:
		on, err := strconv.ParseBool(text)
		if err == nil {
			o.value.SetBool(on)
		}
		return err
	case reflect.Float64:
		x, err := strconv.ParseFloat(text, 64)
		if err == nil {
			o.value.SetFloat(x)
		}
		return err
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err == nil {
			o.value.SetInt(int64(n))
		}
		return err
	case reflect.Uint64:
		n, err := strconv.ParseUint(text, 10, 64)
		if err == nil {
			o.value.SetUint(n)
		}
		return err
	case reflect.Slice:
		list, err := ReadList(o.Flag, text)
		if err == nil {
			o.value.Set(reflect.ValueOf(list))
		}
		return err
	}
	o.value.SetString(text)
	return nil
}

// Allowed says which values the option takes.
func (o *Option) Allowed() string {
	switch {
	case o.Switch:
		return tongue.Say("true or false")
	case o.above != "":
		return tongue.Plainf("more than %s", o.above)
	case o.least != "" && o.most != "":
		return tongue.Plainf("%s to %s", o.least, o.most)
	case o.least != "":
		return tongue.Plainf("%s or more", o.least)
	case o.most != "":
		return tongue.Plainf("at most %s", o.most)
	case o.value.Kind() == reflect.Uint64:
		return tongue.Say("a whole number from 0")
	}
	return tongue.Plainf("any %s", o.value.Kind().String())
}

// check tells whether the option is one of the values it takes.
func (o *Option) check() error {
	if o.Switch || o.value.Kind() == reflect.String || o.Value() == o.unset && o.unset != "" {
		return nil
	}
	if o.value.Kind() == reflect.Slice {
		return o.checkList()
	}
	x, err := strconv.ParseFloat(o.Value(), 64)
	if err != nil || !o.allows(x) {
		return Fault{o.Flag, tongue.Plainf("found %s, allowed: %s", o.Value(), o.Allowed())}
	}
	return nil
}

// allows tells whether the option takes a number.
func (o *Option) allows(x float64) bool {
	return within(o.least, x, true) && within(o.most, x, false) && (o.above == "" || x > number(o.above))
}

// checkList tells whether each number of a list is one that the option takes, each larger than
// the one before and no more of them than it takes.
func (o *Option) checkList() error {
	list := o.numbers()
	for k, x := range list {
		found := strconv.FormatFloat(x, 'g', -1, 64)
		switch {
		case !o.allows(x):
			return Fault{o.Flag, tongue.Plainf("found %s, allowed: %s", found, o.Allowed())}
		case k > 0 && !(x > list[k-1]):
			return Fault{o.Flag, tongue.Plainf("found %s after %s, allowed: each larger than the one before", found, strconv.FormatFloat(list[k-1], 'g', -1, 64))}
		}
	}
	if o.atMost != "" && len(list) > int(number(o.atMost)) {
		return Fault{o.Flag, tongue.Plainf("found %d numbers, allowed: at most %s", len(list), o.atMost)}
	}
	return nil
}

// within tells whether x keeps to a limit, the least or the most; none is kept always.
func within(limit string, x float64, least bool) bool {
	switch {
	case limit == "":
		return true
	case least:
		return x >= number(limit)
	}
	return x <= number(limit)
}

// number reads a number of a tag, which is part of the program.
func number(text string) float64 {
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		panic("a tag of an option: " + err.Error())
	}
	return x
}

// validate checks all options of a question.
func validate(options any) error {
	for _, o := range OptionsOf(options) {
		if err := o.check(); err != nil {
			return err
		}
	}
	return nil
}

// defaults returns the options of a question as they are unless stated.
func defaults[T any]() T {
	var options T
	for _, o := range OptionsOf(&options) {
		if o.Default == "" {
			continue
		}
		if err := o.read(o.Default); err != nil {
			panic(fmt.Sprintf("the default of --%s: %v", o.Flag, err)) // it is part of the program
		}
	}
	return options
}

// Fault is what is wrong with a question: with an option of it, or with asking it of the plan.
type Fault struct {
	Option string // its flag; "" where the fault is of no single option
	What   string // what was found and what is allowed
}

// Error says the fault as the command line does.
func (f Fault) Error() string {
	if f.Option == "" {
		return f.What
	}
	return "--" + f.Option + ": " + f.What
}
