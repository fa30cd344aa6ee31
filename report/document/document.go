// Package document turns an answer into what people take away, the same for command and page:
// the report, and all numbers as JSON with what stands behind them.
package document

import (
	"bytes"
	"encoding/json"
	"reflect"
	"slices"
	"strings"

	"drystalk/report"
	"drystalk/sim"
	"drystalk/sim/answers"
	"drystalk/sim/plans"
	"drystalk/sim/weather"
	"drystalk/tongue"
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
	Schema      int              `json:"schema_version"` // of the form of the JSON answers
	Question    string           `json:"question"`       // what was asked: the command
	Sentence    string           `json:"sentence"`
	Paragraph   string           `json:"paragraph"`
	Notes       []report.Note    `json:"notes"`    // what stands beside the answer in sentences
	Caution     string           `json:"caution"`  // those that stand beside every answer
	Cautions    []string         `json:"cautions"` // all of them
	Invented    bool             `json:"invented"` // a demo, or made from one: the place and its numbers are nobody's
	Version     string           `json:"version"`
	Scenario    string           `json:"scenario"`
	Hash        string           `json:"scenario_hash"`
	Seed        uint64           `json:"seed"`
	Currency    string           `json:"currency"`  // of all amounts of money; "" where none is stated
	Reproduce   []string         `json:"reproduce"` // how to get the same numbers
	Warnings    []string         `json:"warnings"`
	Assumptions []sim.Assumption `json:"assumptions"`

	Fits    []plans.Fitted `json:"weather_fits"`    // of the climates behind the answer that were fitted to records
	Changed []string       `json:"climate_changed"` // keys by which the climate differs from that of records and normals
}

// complete adds to a report what stands behind the answer to a question, and returns the header
// that says the same.
func (w Writer) complete(question string, r *report.Report, asked *answers.Asked) Header {
	c := &asked.Case
	aboutPlace(question, r, c)
	r.Background = report.Background{Region: c.Setup.Region.Name, Sites: len(c.Setup.Region.Sites), Contract: contractOf(c.Setup.Region), Target: c.Target, Goal: c.Goal}
	if r.Brief != nil {
		r.Brief.Seed, r.Brief.Version = c.Setup.Seed, w.Version
	}
	r.Loan = c.Prices != nil && c.Prices.LoanShare > 0
	r.Assumptions, r.Warnings, r.Weather = c.Assumptions, append(r.Warnings, c.Warnings...), c.Weather
	if asked.Command != "" {
		r.Reproduce = append(r.Reproduce, asked.Command)
	}
	r.Reproduce = append(r.Reproduce, tongue.Sayf("scenario %s, content %s", c.Name, c.Hash))
	for _, f := range c.Files {
		r.Reproduce = append(r.Reproduce, fileWords(f))
	}
	r.Reproduce = append(r.Reproduce, "drystalk "+w.Version)
	return Header{
		Schema: SchemaVersion, Question: question, Sentence: r.Sentence, Paragraph: r.Words(), Notes: r.Notes, Caution: r.Caution(), Cautions: report.Cautions(), Invented: c.Invented, Version: w.Version,
		Scenario: c.Name, Hash: c.Hash, Seed: c.Setup.Seed, Currency: c.Currency, Reproduce: r.Reproduce, Warnings: r.Warnings, Assumptions: c.Assumptions,
		Fits: c.Fits, Changed: c.Changed,
	}
}

// aboutPlace says in the paragraph of an answer that a demo is invented, what of its weather is
// guessed, how good a fitted climate is and what normals alone cannot know; the notes say it in
// full. One load of a dryer asks nothing of the weather.
func aboutPlace(question string, r *report.Report, c *answers.Case) {
	if question == "charge" {
		r.First = append(inventedWords(c), r.First...)
		return
	}
	r.First = append(append(inventedWords(c), report.HumidityInShort(c.HumidityGuessed)...), r.First...)
	if c.Ways != "" {
		r.First = append(r.First, report.WaysHold(c.Ways))
		r.Notes = append(r.Notes, report.Note{About: tongue.Say("Ways of working"), Says: report.WaysHold(c.Ways) + tongue.Sayf(" It changes %s.", strings.Join(c.WaysSaid, "; "))})
	}
	var fits []report.Fit
	weathers := report.PlaceWords(c.HumidityGuessed)
	for _, f := range c.Fits {
		fits = append(fits, report.Fit(f))
		weathers = append(weathers, report.FittedSentences(f.Station, f.Judgement, contractMonths(c))...)
	}
	if len(fits) > 0 {
		r.First = append(r.First, report.FittedInShort(fits))
	}
	if len(c.Drawn) > 0 && question != "season" && question != "check" {
		sharp := slices.IndexFunc(c.Drawn, weather.Normals.Sharp)
		r.Last = append(r.Last, report.NormalsInShort(sharp >= 0))
		weathers = append(weathers, report.NormalsSentence(c.Drawn[max(0, sharp)].Station, sharp >= 0))
	}
	if len(weathers) > 0 {
		r.Notes = append(r.Notes, report.Note{About: tongue.Say("The weather"), Says: strings.Join(weathers, " ")})
	}
}

// inventedWords says of a demo that it is one.
func inventedWords(c *answers.Case) []string {
	if c.Invented {
		return []string{report.InventedWords()}
	}
	return nil
}

// contractOf returns what the contract asks for, month by month of the season.
func contractOf(r *sim.Region) []report.Asked {
	var out []report.Asked
	for _, span := range r.Calendar.Months() {
		if asked := r.Contract.StalksByMonth[span.Month]; asked > 0 {
			out = append(out, report.Asked{Month: span.Month.String(), Stalks: asked})
		}
	}
	return out
}

// contractMonths returns the months in which the contract asks for stalks, 1 to 12.
func contractMonths(c *answers.Case) []int {
	var out []int
	for month, asked := range c.Setup.Region.Contract.StalksByMonth {
		if asked > 0 {
			out = append(out, int(month))
		}
	}
	slices.Sort(out)
	return out
}

// fileWords names a file that numbers come from, so that whoever has the answer knows which one
// the command line needs in its folder.
func fileWords(f plans.File) string {
	if f.Content == "" {
		return tongue.Sayf("file %s", f.Name)
	}
	return tongue.Sayf("file %s, content %s", f.Name, f.Content)
}

// with returns a report and its JSON as a document.
func with(r report.Report, body any) (Document, error) {
	data, err := JSON(body)
	return Document{r, data}, err
}

// JSON returns a JSON document as every answer is written: indented, letters as they are, and
// lists without entries as [], never null.
func JSON(v any) ([]byte, error) {
	v = withLists(reflect.ValueOf(v)).Interface()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return b.Bytes(), err
}

// withLists returns a copy of a value in which lists that are nil are empty.
func withLists(v reflect.Value) reflect.Value {
	if !v.IsValid() || v.Type().Implements(marshalsText) || v.Type().Implements(marshalsJSON) {
		return v
	}
	out := reflect.New(v.Type()).Elem()
	out.Set(v)
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if out.Field(i).CanSet() && v.Type().Field(i).Tag.Get("json") != "-" {
				out.Field(i).Set(withLists(v.Field(i)))
			}
		}
	case reflect.Slice:
		out.Set(reflect.MakeSlice(v.Type(), v.Len(), v.Len()))
		fallthrough
	case reflect.Array:
		for i := range v.Len() {
			out.Index(i).Set(withLists(v.Index(i)))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			out.Set(reflect.New(v.Type().Elem()))
			out.Elem().Set(withLists(v.Elem()))
		}
	}
	return out
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
