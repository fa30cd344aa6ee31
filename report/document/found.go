package document

import (
	"strconv"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// Names of the files that other commands take.
const (
	BoughtFile = "bought.yaml" // the plan with all of a list bought
	WaysFile   = "ways.yaml"   // the ways of working that were found
)

// Bought returns the plans with all of their lists bought: one, or one for each of several budgets,
// named by it.
func Bought(s *scenarios.Scenario, a answers.SpendAnswer) []report.File {
	written := func(name string, r *sim.Region) report.File {
		bought := *s
		bought.Region = *r
		return report.File{Name: name, Data: bought.Write()}
	}
	if len(a.Each) < 2 {
		return []report.File{written(BoughtFile, a.Spending.Best)}
	}
	var files []report.File
	for _, one := range a.Each {
		files = append(files, written("bought-"+strconv.FormatFloat(one.Budget.Units(), 'f', -1, 64)+".yaml", one.Best))
	}
	return files
}

// Ways returns the ways that were found as a file that --ways takes; none where none help. Ways that
// the plan was changed by already are in it.
func Ways(s *scenarios.Scenario, a answers.WaysAnswer) []report.File {
	n := len(a.Ways.Together)
	if n == 0 {
		return nil
	}
	about := []string{
		tongue.Sayf("Ways of working for %s: the contract is met more often, at no price or nearly none.", a.Ways.Region),
		tongue.Say("drystalk odds and most other commands take this file by --ways."),
	}
	return []report.File{{Name: WaysFile, Data: scenarios.WriteWays(about, append(s.WaysChanges(), a.Ways.Together[n-1].Edits...))}}
}
