package scenarios_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
	"drystalk/sim/knowledge"
	"drystalk/sim/sensitivity"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
)

// twoClimates is a study of two climates, with one and two dryers.
const twoClimates = `study: two climates
scenario: mine.yaml
seasons: 40
seed: 7
always:
  knowledge: {mould_factor: {low: 1.2, shape: even}}
factors:
  climate:
    here: {}
    upper_lake: {weather: {wmo_station: 48327}}
  dryers: {key: sites.Heron Point.dryers, values: [1, 2]}
`

// besideStudy hands out the demo of one cooperative as mine.yaml.
func besideStudy(t *testing.T) func(string) ([]byte, error) {
	data, err := scenarios.DemoFile(scenarios.OneCooperative)
	require.NoError(t, err)
	return func(name string) ([]byte, error) {
		if name == "mine.yaml" {
			return data, nil
		}
		return nil, fmt.Errorf("it cannot be read there")
	}
}

// Every combination of levels is a point, whose scenario says what the levels change and nothing
// else; a weather that names its source replaces the one before.
func TestFactorsMakePoints(t *testing.T) {
	f, err := scenarios.ReadStudy("two.yaml", []byte(twoClimates), besideStudy(t))
	require.NoError(t, err)
	assert.Equal(t, []uint64{7, 40, study.DefaultBlock}, []uint64{f.Seed, uint64(f.Seasons), uint64(f.Block)})
	require.Len(t, f.Factors, 2)
	assert.Equal(t, tidy.Column{Name: "dryers", Kind: tidy.Real, Meaning: "dryers of the plan as written"}, f.Factors[1])
	require.Len(t, f.Points, 4)
	assert.Equal(t, "climate here, dryers 1", f.Points[0].Name)
	assert.Equal(t, "climate upper_lake, dryers 2", f.Points[3].Name)
	assert.Equal(t, []tidy.Cell{tidy.Text("upper_lake"), tidy.Number(2)}, f.Points[3].Levels)
	base, last := f.Points[0].Plan.WithoutWeather(7), f.Points[3].Plan.WithoutWeather(7)
	assert.Equal(t, []int{1}, base.Plan())
	assert.Equal(t, []int{2}, last.Plan())
	assert.Contains(t, last.Normals.Station, "48327")
	assert.NotContains(t, base.Normals.Station, "48327")
	for _, p := range f.Points {
		r, ok := p.Plan.WithoutWeather(7).Setup.Knowledge.Of(knowledge.MouldFactor)
		require.True(t, ok)
		assert.Equal(t, []float64{1.2, 1.5, 2.5}, []float64{r.Low, r.Mode, r.High})
		assert.Equal(t, knowledge.Even, r.Shape)
	}
	var names []string
	for _, in := range f.Inputs {
		names = append(names, in.Name)
	}
	assert.Equal(t, []string{"two.yaml", "mine.yaml"}, names)
}

// Points may be listed, or left out; the scenario may be a demo; a design takes all that is drawn
// unless it names its inputs.
func TestListedPointsAndDesigns(t *testing.T) {
	f, err := scenarios.ReadStudy("s.yaml", []byte("study: x\nscenario: one-cooperative\nseasons: 5\ndesign: {method: sobol, base_rows: 8, outcomes: [delivered_stalks]}\n"), nil)
	require.NoError(t, err)
	require.Len(t, f.Points, 1)
	require.NotNil(t, f.Design)
	assert.Len(t, f.Design.Inputs, len(knowledge.Table()))
	assert.Equal(t, sensitivity.Halton, f.Design.Sampling)
	f, err = scenarios.ReadStudy("s.yaml", []byte("study: x\nscenario: one-cooperative\nseasons: 5\nsampling: latin-hypercube\npoints:\n  today: {}\n  late: {dryer: {shift_end_h: 22}}\n"), nil)
	require.NoError(t, err)
	require.Len(t, f.Points, 2)
	assert.Equal(t, 22.0, f.Points[1].Plan.WithoutWeather(1).Setup.Region.Dryer.ShiftEndH)
	assert.Equal(t, sensitivity.LatinHypercube, f.Sampling)
}

// What is wrong is said with file, line, key, what was found and what is allowed: in the study, and
// in the parts of scenarios that it holds, in the words of the scenario itself.
func TestFaultsOfStudies(t *testing.T) {
	for want, change := range map[string][2]string{
		`two.yaml:3: seasons: found "many", allowed: a whole number from 1 to 10000000`:                                            {"seasons: 40", "seasons: many"},
		`two.yaml:1: seasons: found nothing, allowed: a whole number from 1 to 10000000`:                                           {"seasons: 40\n", ""},
		`two.yaml:4: sede: found an unknown key, did you mean seed?`:                                                               {"seed: 7", "sede: 7"},
		`two.yaml:2: scenario: found "your.yaml", allowed: a demo (lake-tavari, one-cooperative) or a scenario file beside`:        {"mine.yaml", "your.yaml"},
		`two.yaml:6: knowledge.mold_factor: found an unknown key, did you mean mould_factor?`:                                      {"mould_factor", "mold_factor"},
		`two.yaml:6: knowledge.mould_factor: found 9, 1.5, 2.5, allowed: low at most mode`:                                         {"low: 1.2", "low: 9"},
		`two.yaml:6: knowledge.mould_factor.shape: found "round", allowed: triangle (most likely at the mode) or even`:             {"shape: even", "shape: round"},
		`two.yaml:10: weather.wmo_station: found 99999, allowed:`:                                                                  {"48327", "99999"},
		`two.yaml:11: sites.Heron Point.dryers: found 2.5, allowed: a whole number from 0 to`:                                      {"[1, 2]", "[1, 2.5]"},
		`two.yaml:11: sites.Heron Pint: found`:                                                                                     {"Heron Point", "Heron Pint"},
		`two.yaml:9: factors.Climate: found "Climate", allowed: a name of small letters`:                                           {"climate:", "Climate:"},
		`two.yaml:11: factors.dryers.values: found no list`:                                                                        {", values: [1, 2]", ""},
		`two.yaml:8: factors: found that the column season comes twice, allowed: a factor of another name`:                         {"dryers: {key", "season: {key"},
		`two.yaml:4: sampling: found "dice", allowed: plain, latin-hypercube, halton, independent`:                                 {"seed: 7", "sampling: dice"},
		`two.yaml:4: design.method: found "guess", allowed: morris (which inputs matter at all) or sobol (shares of the variance)`: {"seed: 7", "design: {method: guess}"},
		`two.yaml:4: design.base_rows: found 8, allowed: trajectories with method: morris`:                                         {"seed: 7", "design: {method: morris, trajectories: 4, base_rows: 8, outcomes: [rain_mm]}"},
		`two.yaml:4: design.inputs: found "mold_factor", did you mean mould_factor?`:                                               {"seed: 7", "design: {method: morris, trajectories: 4, inputs: [mold_factor], outcomes: [rain_mm]}"},
		`two.yaml:4: design.outcomes: found "joy", allowed: a column of the table of seasons`:                                      {"seed: 7", "design: {method: morris, trajectories: 4, outcomes: [joy]}"},
		`two.yaml:4: points: found points beside factors, allowed: either`:                                                         {"seed: 7", "points: {a: {}}"},
	} {
		text := strings.Replace(twoClimates, change[0], change[1], 1)
		require.NotEqual(t, twoClimates, text)
		_, err := scenarios.ReadStudy("two.yaml", []byte(text), besideStudy(t))
		require.Error(t, err, "%v", change)
		assert.Contains(t, err.Error(), want)
		assert.Len(t, strings.Split(err.Error(), "\n"), 1, "one line a fault: %s", err)
	}
}

// The README shows the demo of a study as it is.
func TestREADMEShowsTheDemo(t *testing.T) {
	readme, err := os.ReadFile("../README.md")
	require.NoError(t, err)
	demo, err := scenarios.DemoStudy(scenarios.TwoClimates)
	require.NoError(t, err)
	shown := "    " + strings.ReplaceAll(strings.TrimSpace(string(demo)), "\n", "\n    ")
	assert.Contains(t, string(readme), shown)
	f, err := scenarios.ReadStudy("two-climates.yaml", demo, nil)
	require.NoError(t, err)
	assert.Len(t, f.Points, 4)
}

// The shape of a distribution is written, read back and told; one that is usual is not written.
func TestShapes(t *testing.T) {
	s, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	assert.NotContains(t, string(s.Write()), "shape")
	even, err := s.With([]string{"knowledge: mould_factor.shape=even"})
	require.NoError(t, err)
	back, err := scenarios.Read("back.yaml", even.Write())
	require.NoError(t, err)
	assert.Equal(t, even.Hash, back.Hash)
	assert.NotEqual(t, s.Hash, even.Hash)
	assert.Contains(t, even.Explain(), "mould_factor: low 1, mode 1.5, high 2.5 times pine, as likely anywhere between")
	plain, err := even.With([]string{"knowledge: mould_factor.shape=triangle"})
	require.NoError(t, err)
	assert.Equal(t, s.Hash, plain.Hash)
}
