// Package document turns an answer into what people take away, the same for command and page:
// the report, and all numbers as JSON with what stands behind them.
package document

import (
	"bytes"
	"encoding/json"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/answers"
)

// Document is an answer ready to be read.
type Document struct {
	Report report.Report
	JSON   []byte // all numbers, and what stands behind them
}

// Writer writes the answers of one version of the program.
type Writer struct {
	Version string
}

// Header is what every JSON answer begins with.
type Header struct {
	Sentence    string           `json:"sentence"`
	Paragraph   string           `json:"paragraph"`
	Version     string           `json:"version"`
	Scenario    string           `json:"scenario"`
	Hash        string           `json:"scenario_hash"`
	Seed        uint64           `json:"seed"`
	Reproduce   []string         `json:"reproduce,omitempty"` // how to get the same numbers
	Warnings    []string         `json:"warnings"`
	Assumptions []sim.Assumption `json:"assumptions"`
}

// Complete adds to a report what stands behind the answer, and returns the header that says
// the same.
func (w Writer) Complete(r *report.Report, asked *answers.Asked) Header {
	c := &asked.Case
	r.Assumptions, r.Warnings, r.Weather = c.Assumptions, append(r.Warnings, c.Warnings...), c.Weather
	if asked.Command != "" {
		r.Reproduce = append(r.Reproduce, asked.Command)
	}
	r.Reproduce = append(r.Reproduce, "scenario "+c.Name+", content "+c.Hash, "drystalk "+w.Version)
	return Header{r.Sentence, r.Words(), w.Version, c.Name, c.Hash, c.Setup.Seed, r.Reproduce, c.Warnings, c.Assumptions}
}

// with returns a report and its JSON as a document.
func with(r report.Report, body any) (Document, error) {
	data, err := JSON(body)
	return Document{r, data}, err
}

// JSON returns a JSON document as every answer is written: indented, and letters as they are.
func JSON(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// Files returns all files of an answer: the report, its charts in the formats asked for, the
// spreadsheet, the figures as CSV, and the JSON.
func (d Document) Files(formats ...string) ([]report.File, error) {
	files, err := d.Report.Files(formats...)
	if err != nil {
		return nil, err
	}
	sheet, err := d.Report.Spreadsheet()
	if err != nil {
		return nil, err
	}
	tidy, err := d.Report.Tidy()
	if err != nil {
		return nil, err
	}
	return append(files, report.File{Name: "report.xlsx", Data: sheet}, report.File{Name: "figures.csv", Data: tidy}, report.File{Name: "answer.json", Data: d.JSON}), nil
}
