package folder

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"

	"drystalk/sim/plans"
	"drystalk/sim/study"
	"drystalk/sim/tidy"
	"drystalk/tongue"
)

// SchemaVersion is the version of the form of the folder.
const SchemaVersion = 1

// Manifest is all that is needed to get the rows of a study again.
type Manifest struct {
	Schema   int           `json:"schema_version"`
	Study    string        `json:"study"`
	Hash     string        `json:"study_hash"` // of all that the rows depend on but the program
	Program  Program       `json:"program"`
	Build    string        `json:"build"` // of the program: rows of two builds are never put together
	Seed     uint64        `json:"seed"`
	Seasons  int           `json:"seasons"` // of each point; with a design, of each of its rows
	Block    int           `json:"block_seasons"`
	Sampling string        `json:"sampling"` // plain: each season draws the knowledge for itself
	Design   *study.Design `json:"design,omitempty"`
	Shards   int           `json:"shards"`
	Points   []Point       `json:"points"`
	Columns  []tidy.Column `json:"columns"`
	Inputs   []plans.File  `json:"inputs"` // in the folder inputs, the file of the study first
	Began    string        `json:"began"`
	Result   *Outcome      `json:"result,omitempty"` // once all shards are there
}

// Program says what computed the rows.
type Program struct {
	Version string `json:"version"`
	Go      string `json:"go"`
	System  string `json:"system"`
}

// Point is a point of the study.
type Point struct {
	Name     string         `json:"name"`
	Levels   map[string]any `json:"levels"`
	Scenario string         `json:"scenario_hash"`
}

// Outcome is what the whole study came to.
type Outcome struct {
	Digest   string `json:"digest"` // of all rows
	Trials   int    `json:"trials"`
	Finished string `json:"finished"`
}

// ManifestOf returns the manifest of a study of which nothing is done, by a build of a program.
func ManifestOf(s *study.Study, inputs []Input, by Program, build string) (Manifest, error) {
	hash, err := s.Hash()
	if err != nil {
		return Manifest{}, err
	}
	cols, _ := s.Columns() // known where the hash is
	shards, _ := s.Plan()
	m := Manifest{
		Schema: SchemaVersion, Study: s.Name, Hash: hash, Program: by, Build: build, Seed: s.Seed, Seasons: s.Seasons, Block: s.Block,
		Sampling: string(s.Sampling), Design: s.Design, Shards: len(shards), Columns: cols, Inputs: inputsOf(inputs),
	}
	if m.Sampling == "" {
		m.Sampling = "plain"
	}
	for i := range s.Points {
		p := Point{Name: s.Points[i].Name, Levels: map[string]any{}, Scenario: s.Points[i].Plan.WithoutWeather(s.Seed).Hash}
		for k, cell := range s.Points[i].Levels {
			if p.Levels[s.Factors[k].Name] = cell.Number; s.Factors[k].Kind == tidy.Word {
				p.Levels[s.Factors[k].Name] = cell.Text
			}
		}
		m.Points = append(m.Points, p)
	}
	return m, nil
}

// Read reads the manifest of a folder. The error of a folder without one is fs.ErrNotExist.
func Read(dir string) (*Manifest, error) {
	data, err := os.ReadFile(filepath.Join(dir, manifestName))
	if errors.Is(err, os.ErrNotExist) {
		return nil, tongue.Errorf("%s: found no %s, allowed: the folder of a study: %w", dir, manifestName, os.ErrNotExist)
	}
	if err != nil {
		return nil, plain(dir, err)
	}
	m := &Manifest{}
	if err := json.Unmarshal(data, m); err != nil || m.Hash == "" {
		return nil, tongue.Errorf("%s: found a broken %s, allowed: the folder of a study", dir, manifestName)
	}
	if m.Schema != SchemaVersion {
		return nil, tongue.Errorf("%s: found a folder of form %d, allowed: %d, that of this program", dir, m.Schema, SchemaVersion)
	}
	return m, nil
}

// goesOn tells why what lies in a folder cannot be gone on with.
func (m *Manifest) goesOn(dir string, there *Manifest) error {
	if there.Hash != m.Hash {
		return tongue.Errorf("%s: found another study (%s), allowed: the folder of this study, or another with --out", dir, m.differsFrom(there))
	}
	if there.Build != m.Build {
		return tongue.Errorf("%s: found parts by another build of the program (%s %s), allowed: this one (%s %s), as rows of two builds may differ; go on with that program, or name another folder with --out",
			dir, there.Program.Version, there.Build, m.Program.Version, m.Build)
	}
	return nil
}

// contentOf returns the short hash of the bytes of a file.
func contentOf(data []byte) string {
	sum := sha256.Sum256(data)
	return hex.EncodeToString(sum[:8])
}

// Summary returns the summary of a study as a table: a line for each figure of each point.
func Summary(s *study.Study, result *study.Result) *tidy.Table {
	t := &tidy.Table{Columns: []tidy.Column{{Name: "point", Kind: tidy.Word}}}
	t.Columns = append(t.Columns, s.Factors...)
	t.Columns = append(t.Columns,
		tidy.Column{Name: "figure", Kind: tidy.Word}, tidy.Column{Name: "unit", Kind: tidy.Word}, tidy.Column{Name: "n", Kind: tidy.Whole},
		tidy.Column{Name: "estimate", Kind: tidy.Real}, tidy.Column{Name: "low", Kind: tidy.Real}, tidy.Column{Name: "high", Kind: tidy.Real},
		tidy.Column{Name: "method", Kind: tidy.Word}, tidy.Column{Name: "level", Kind: tidy.Real})
	for _, l := range result.Summary {
		row := append([]tidy.Cell{tidy.Text(s.Points[l.Point].Name)}, s.Points[l.Point].Levels...)
		t.Rows = append(t.Rows, append(row, tidy.Text(l.Of), tidy.Text(l.Unit), tidy.Count(l.N),
			finite(l.Estimate), finite(l.Low), finite(l.High), tidy.Text(l.Method), levelOf(&l)))
	}
	return t
}

// finite returns a number, or nothing for one that is not finite: an end of an interval that is open.
func finite(x float64) tidy.Cell {
	if math.IsInf(x, 0) {
		return tidy.None
	}
	return tidy.Number(x)
}

// levelOf returns the level of an interval, or nothing where there is none.
func levelOf(l *study.Line) tidy.Cell {
	if math.IsNaN(l.Low) {
		return tidy.None
	}
	return tidy.Number(l.Level)
}
