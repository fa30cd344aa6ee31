package folder

import (
	"fmt"
	"reflect"
	"slices"
	"strings"

	"drystalk/tongue"
)

// mostSaid is how many differences of two studies are said.
const mostSaid = 3

// differsFrom says in what the study of a folder that is there differs from this one: "seasons 200
// there, 60 here".
func (m *Manifest) differsFrom(there *Manifest) string {
	var said []string
	differ := func(what string, there, here any) {
		if !reflect.DeepEqual(there, here) {
			said = append(said, tongue.Sayf("%s %v there, %v here", what, there, here))
		}
	}
	differ("study", fmt.Sprintf("%q", there.Study), fmt.Sprintf("%q", m.Study))
	differ("seasons", there.Seasons, m.Seasons)
	differ("seed", there.Seed, m.Seed)
	differ("block_seasons", there.Block, m.Block)
	differ("sampling", there.Sampling, m.Sampling)
	if !reflect.DeepEqual(there.Design, m.Design) {
		said = append(said, tongue.Say("another design"))
	}
	said = append(said, m.pointsDiffer(there)...)
	if len(said) == 0 {
		return tongue.Sayf("%s there, %s here", there.Hash, m.Hash)
	}
	return strings.Join(said[:min(len(said), mostSaid)], "; ")
}

// pointsDiffer says in which points, or in whose scenario, two studies differ.
func (m *Manifest) pointsDiffer(there *Manifest) []string {
	if len(there.Points) != len(m.Points) {
		return []string{tongue.Sayf("%d points there, %d here", len(there.Points), len(m.Points))}
	}
	for i, p := range m.Points {
		was := there.Points[i]
		switch {
		case was.Name != p.Name:
			return []string{tongue.Sayf("the point %q there, %q here", was.Name, p.Name)}
		case was.Scenario != p.Scenario && there.Seed == m.Seed:
			return []string{tongue.Sayf("the scenario of the point %q is another%s", p.Name, m.changedFiles(there))}
		}
	}
	return nil
}

// changedFiles names the files of a study whose content is another than that which is there.
func (m *Manifest) changedFiles(there *Manifest) string {
	var names []string
	for _, in := range m.Inputs {
		if !slices.Contains(there.Inputs, in) {
			names = append(names, in.Name)
		}
	}
	if len(names) == 0 {
		return ""
	}
	return tongue.Sayf(" (changed: %s)", strings.Join(names, ", "))
}
