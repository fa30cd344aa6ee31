package scenarios

import "embed"

//go:embed demo/*.yaml demo/studies/*.yaml
var demos embed.FS

// TwoClimates is the study that comes with the program, invented throughout.
const TwoClimates = "two-climates"

// DemoStudy returns the text of a demo of a study.
func DemoStudy(name string) ([]byte, error) { return demos.ReadFile("demo/studies/" + name + ".yaml") }

// The demos that come with the program, invented throughout.
const (
	LakeTavari     = "lake-tavari"
	OneCooperative = "one-cooperative"
)

// DemoFile returns the text of a demo scenario.
func DemoFile(name string) ([]byte, error) { return demos.ReadFile("demo/" + name + ".yaml") }

// Demo returns a demo scenario.
func Demo(name string) (*Scenario, error) {
	data, err := DemoFile(name)
	if err != nil {
		return nil, err
	}
	s, err := Read(name+".yaml", data)
	if err == nil {
		s.File = name
	}
	return s, err
}
