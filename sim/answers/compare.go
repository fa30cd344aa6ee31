package answers

import (
	"context"
	"slices"

	"drystalk/sim/decide"
	"drystalk/sim/plans"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
	"drystalk/tongue"
)

// CompareOptions are the options of [Compare].
type CompareOptions struct {
	Numbers
	Futures int `default:"200" least:"30" most:"100000" help:"Sequences of years behind a payback."`
}

// DefaultCompare returns the options of [Compare] as they are unless stated.
func DefaultCompare() CompareOptions { return defaults[CompareOptions]() }

// Validate tells what is wrong with the options, as a [Fault].
func (q CompareOptions) Validate() error { return validate(&q) }

// Command returns the command line that gives the same numbers: the second plan is a file of its
// own, or the first with changes. Where a plan read from a file was changed otherwise, no
// command says so, and it returns "".
func (q CompareOptions) Command(p Pair) string {
	words := []string{"drystalk", "compare", fileWord(p.First.File)}
	switch {
	case len(p.First.Changes) > 0 || p.First.Ways != "" && p.First.Ways != p.Second.Ways:
		return ""
	case len(p.Second.Changes) == 0 && p.First.Ways == p.Second.Ways:
		words = append(append(words, fileWord(p.Second.File)), waysWords(&p.Second)...)
	case p.Second.File == p.First.File && (p.First.Ways == p.Second.Ways || len(p.Second.Changes) == 0):
		words = append(words, planWords(&p.Second)[1:]...)
	default:
		return ""
	}
	return line(append(append(words, seedWords(&p.First)...), flags(&q)...))
}

// CompareAnswer is what the second plan does that the first does not.
type CompareAnswer struct {
	Asked       Asked              `json:"-"` // of the first plan
	Second      Case               `json:"-"`
	SecondHash  string             `json:"second_scenario_hash"`
	Differences []plans.Difference `json:"differences"`
	Comparison  decide.Comparison  `json:"comparison"`
	Rival       *ways.Rival        `json:"free_rival,omitempty"` // of what is bought; nil where nothing is, or no better way of working was found
	Tables      []*trials.Table    `json:"-"`                    // the seasons of the first plan and of the second
}

// Compare runs two plans through the same seasons and judges what the second buys more. Plans
// that do not differ are a [Fault].
func Compare(ctx context.Context, p Pair, q CompareOptions, tell Progress) (CompareAnswer, error) {
	a := CompareAnswer{Asked: Asked{p.First, q.Command(p)}, Second: p.Second, SecondHash: p.Second.Hash, Differences: p.Differences}
	if p.Second.File != p.First.File {
		a.Asked.Case.Files = append(slices.Clone(p.First.Files), plans.File{Name: p.Second.Name, Content: p.Second.Hash})
	}
	if p.Second.Ways != "" && p.First.Ways == "" {
		ways := slices.IndexFunc(p.Second.Files, func(f plans.File) bool { return f.Name == p.Second.Ways })
		a.Asked.Case.Files = append(slices.Clone(a.Asked.Case.Files), p.Second.Files[ways])
	}
	err := q.Validate()
	if err != nil {
		return a, err
	}
	if len(p.Differences) == 0 && p.First.File == p.Second.File && len(p.Second.Changes) > 0 {
		return a, Fault{"with", tongue.Plainf("found nothing that changes %s: what is stated stands there already", p.First.Name)}
	}
	if len(p.Differences) == 0 {
		return a, Fault{What: tongue.Plainf("%s and %s: the plans do not differ", p.First.Name, p.Second.Name)}
	}
	b := beside{set: trialsOf(&p.First, &q.Numbers), offered: trialsOf(&p.Second, &q.Numbers), tried: [][]int{p.First.Plan()}}
	a.Comparison, err = decide.Compare(ctx, decide.ComparisonQuestion{
		A:       decide.Side{Name: p.First.Name, Setup: b.set, Goal: p.First.Goal},
		B:       decide.Side{Name: p.Second.Name, Setup: b.offered, Goal: p.Second.Goal},
		Seasons: q.Seasons, Prices: p.Second.Prices, Futures: q.Futures, Progress: func(done, of int) { tell.tell(Doing{}, done, of) },
		Lived: func(first, second *trials.Table) { b.known = []*trials.Table{first, second} },
	})
	a.Tables = b.known
	if err != nil || a.Comparison.Purchase == nil {
		return a, err
	}
	a.Rival, err = rivalOf(ctx, &p.First, &q.Numbers, b)
	return a, err
}
