package scenarios

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/knowledge"
)

// measuredBy reads a small scenario with lines of knowledge, beside files.
func measuredBy(lines string, files map[string]string) (*Scenario, error) {
	text := strings.Replace(tiny, "sites:\n", "knowledge:\n"+lines+"sites:\n", 1)
	return ReadWith("f", []byte(text), func(name string) ([]byte, error) {
		if data, ok := files[name]; ok {
			return []byte(data), nil
		}
		return nil, fmt.Errorf("no such file")
	})
}

// Ranges that a fit wrote come into a scenario by the name of their file, with where they are from;
// they stay when the plan is changed, and what is written holds them without the file.
func TestMeasuredFiles(t *testing.T) {
	rate := knowledge.Of(knowledge.RateAt80CPerH)
	rate.Low, rate.Mode, rate.High = 0.91234567, 0.97, 1.04
	steep := knowledge.Of(knowledge.EvaporatesKgPerH)
	steep.Low, steep.Mode, steep.High = 0.1, 15, 16
	files := map[string]string{
		"charges.yaml": string(WriteMeasured([]string{"of 12 loads"}, []knowledge.Range{rate, steep})),
		"racks.yaml":   "knowledge: {skin_factor: {low: 0.5, mode: 0.55, high: 0.6}}\n",
	}
	assert.Equal(t, "# of 12 loads\nknowledge:\n  drying_rate_80c_per_h: {low: 0.9123, mode: 0.97, high: 1.04}\n  evaporates_kg_per_h: {low: 1.6, mode: 15, high: 16}\n", files["charges.yaml"],
		"within what a scenario may state")
	s, err := measuredBy("  measured_files: [charges.yaml, racks.yaml]\n", files)
	require.NoError(t, err)
	held := func(s *Scenario, key knowledge.Key) knowledge.Range {
		r, ok := s.Knowledge.Of(key)
		require.True(t, ok)
		return r
	}
	got := held(s, knowledge.RateAt80CPerH)
	assert.Equal(t, []float64{0.9123, 0.97, 1.04}, []float64{got.Low, got.Mode, got.High})
	assert.Equal(t, "measured by the group (charges.yaml)", got.Origin())
	assert.Equal(t, 0.97, s.Base.Cabinet.RateAt80CPerH)
	assert.Equal(t, 0.55, s.Base.Stalk.SkinFactor)
	assert.False(t, held(s, knowledge.EvaporatesKgPerH).GrowsWithDryer(), "it is this dryer that was measured")
	assert.Equal(t, "charges.yaml racks.yaml", s.WithoutWeather(1).Files[0].Name+" "+s.WithoutWeather(1).Files[1].Name)

	changed, err := s.With([]string{"dryer: shift_end_h=20"})
	require.NoError(t, err)
	assert.Equal(t, got, held(changed, knowledge.RateAt80CPerH))
	assert.Len(t, changed.WithoutWeather(1).Files, 2)
	again, err := Read("f", s.Write())
	require.NoError(t, err)
	assert.Equal(t, 0.9123, held(again, knowledge.RateAt80CPerH).Low)

	one, err := measuredBy("  measured_files: racks.yaml\n", files)
	require.NoError(t, err)
	assert.Equal(t, 0.5, held(one, knowledge.SkinFactor).Low)
}

// What is wrong with measured files is told with the line that names them, or with theirs.
func TestFaultsOfMeasuredFiles(t *testing.T) {
	files := map[string]string{
		"a.yaml":     "knowledge: {skin_factor: {low: 0.5, mode: 0.55, high: 0.6}}\n",
		"b.yaml":     "# twice\nknowledge: {skin_factor: {low: 0.5, mode: 0.55, high: 0.6}}\n",
		"wide.yaml":  "knowledge:\n  skin_factor: {low: 0.5, mode: 0.55, high: 60}\n",
		"other.yaml": "knowledges: {}\n",
		"odd.yaml":   "knowledge: {skin: {low: 0.5, mode: 0.55, high: 0.6}}\n",
		"list.yaml":  "- 1\n",
	}
	const written = "a file beside the scenario that fit charges, fit racks or fit output wrote"
	for lines, want := range map[string]string{
		"  measured_files: none.yaml\n":        `knowledge.measured_files: found "none.yaml", allowed: ` + written + " (no such file)",
		"  measured_files: []\n":               "knowledge.measured_files: found a list, allowed: a file that fit charges, fit racks or fit output wrote, or a list of 1 to 10 of them",
		"  measured_files: {a: 1}\n":           "knowledge.measured_files: found a group of keys, allowed: a file that",
		"  measured_files: [[a.yaml]]\n":       "knowledge.measured_files: found a list, allowed: " + written,
		"  measured_files: [a.yaml, b.yaml]\n": "knowledge.measured_files: found skin_factor in a.yaml and in b.yaml, allowed: each range in one file",
		"  measured_files: a.yaml\n  skin_factor: {low: 0.4, mode: 0.6, high: 0.9}\n": "knowledge.skin_factor: found a range here and one in a.yaml, allowed: one of the two",
		"  measured_files: wide.yaml\n":                                               "wide.yaml:2: knowledge.skin_factor.high: found 60, allowed: a number from 0.08 to 1",
		"  measured_files: other.yaml\n":                                              "other.yaml:1: knowledges: found an unknown key, did you mean knowledge?",
		"  measured_files: odd.yaml\n":                                                "odd.yaml:1: knowledge.skin: found an unknown key, allowed: ",
		"  measured_files: list.yaml\n":                                               "list.yaml:1: found a list, allowed: a group of keys: knowledge",
	} {
		_, err := measuredBy(lines, files)
		require.ErrorContains(t, err, want, lines)
	}
}
