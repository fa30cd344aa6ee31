package page

import (
	"errors"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"drystalk/sim/answers"
	"drystalk/tongue"
)

// questions are the options of all that the page asks. An option that several questions have is
// one field of the form.
type questions struct {
	odds    answers.OddsOptions
	dryers  answers.DryersOptions
	compare answers.CompareOptions
	promise answers.PromiseOptions
	spend   answers.SpendOptions
	ways    answers.WaysOptions
	season  answers.SeasonOptions
	seed    uint64
}

// unasked are the questions as they are unless stated: those of the command line.
func unasked() questions {
	return questions{
		answers.DefaultOdds(), answers.DefaultDryers(), answers.DefaultCompare(), answers.DefaultPromise(), answers.DefaultSpend(),
		answers.DefaultWays(), answers.DefaultSeason(), 1,
	}
}

// mostOf are the largest numbers that a run of the page may ask for. The options that are not
// among them belong to the command line: a record is a file, and the page reads none.
var mostOf = map[string]int{
	"seasons": mostSeasons, "search": mostSeasons, "limit": 2 * mostSeasons, "short": 500, "futures": 500, "budget": 1e12, "number": mostSeasons,
}

// fields are the options of each question that the form has. Others stay as the command line has
// them, such as search, which each question has with a default of its own.
func (q *questions) fields() []offered {
	return []offered{
		{&q.odds, []string{"seasons", "short"}},
		{&q.dryers, []string{"seasons", "search", "limit", "short"}},
		{&q.compare, []string{"seasons", "futures"}},
		{&q.promise, []string{"seasons"}},
		{&q.spend, []string{"seasons", "budget"}},
		{&q.ways, []string{"seasons"}},
		{&q.season, []string{"number"}},
	}
}

// offered are the options of a question that the form has.
type offered struct {
	options any
	flags   []string
}

// options returns the options of the form, in their order; each for every question that has it.
func (q *questions) options() [][]answers.Option {
	var out [][]answers.Option
	at := map[string]int{}
	for _, one := range q.fields() {
		for _, o := range answers.OptionsOf(one.options) {
			if !slices.Contains(one.flags, o.Flag) {
				continue
			}
			k, seen := at[o.Flag]
			if !seen {
				k = len(out)
				at[o.Flag] = k
				out = append(out, nil)
			}
			out[k] = append(out[k], o.AtMost(mostOf[o.Flag]))
		}
	}
	return out
}

// read takes the options from a form; one that the form does not have stays as it is.
func (q *questions) read(form url.Values) (faults []fault) {
	for _, same := range q.options() {
		text, ambiguous := plainNumber(form.Get(same[0].Flag), same[0].Flag != "budget")
		switch {
		case !form.Has(same[0].Flag) || text == "" && same[0].Default == "":
			continue
		case ambiguous:
			faults = append(faults, fault{Where: same[0].Flag, What: English.ambiguous(text)})
			continue
		}
		for k := range same {
			if err := same[k].Set(text); err != nil {
				faults = append(faults, faultOf(err))
				break
			}
		}
	}
	if !form.Has("seed") {
		return faults
	}
	seed, err := strconv.ParseUint(strings.TrimSpace(form.Get("seed")), 10, 63)
	if err != nil {
		return append(faults, fault{Where: "seed", What: tongue.Sayf("found %s, allowed: a whole number from 0", strconv.Quote(form.Get("seed")))})
	}
	q.seed = seed
	return faults
}

// faultOf says what is wrong with an option.
func faultOf(err error) fault {
	var f answers.Fault
	if errors.As(err, &f) {
		return fault{Where: f.Option, What: f.What}
	}
	return fault{What: err.Error()}
}

// workers sets the processors of every run.
func (q *questions) workers(n int) {
	for _, all := range []*answers.Numbers{&q.odds.Numbers, &q.dryers.Numbers, &q.compare.Numbers, &q.promise.Numbers, &q.spend.Numbers, &q.ways.Numbers} {
		all.Workers = n
	}
}

// optionView is an option as the form shows it.
type optionView struct {
	Name, Title, Why, Value, Fault string
	Unit                           string
	Main                           bool // shown at once
	Task                           bool // beside the button of its question
}

// optionViews lays the options out, with the seed behind the seasons; money has its currency.
func (s *Server) optionViews(q *questions, currency string) []optionView {
	var out []optionView
	for _, same := range q.options() {
		o := same[0]
		out = append(out, optionView{Name: o.Flag, Title: s.text.Options[o.Flag].String(), Why: o.Allowed() + "; " + s.text.OptionWhy[o.Flag].String(), Value: o.Value(), Main: o.Flag == "seasons", Task: o.Flag == "budget" || o.Flag == "number"})
		if o.Flag == "budget" {
			out[len(out)-1].Unit = currency
		}
		if o.Flag == "seasons" {
			out = append(out, optionView{Name: "seed", Title: s.text.Options["seed"].String(), Why: s.text.OptionWhy["seed"].String(), Value: strconv.FormatUint(q.seed, 10), Main: true})
		}
	}
	return out
}
