package document

import (
	"drystalk/report"
	"drystalk/sim/answers"
	"drystalk/sim/measured"
	"drystalk/tongue"
)

// MeasuredFile is the file of ranges that fit writes of a kind of log, for a scenario.
func MeasuredFile(what string) string { return "measured-" + what + ".yaml" }

// MeasuredHeader is what the JSON answers to a group's own logs begin with.
type MeasuredHeader struct {
	Schema    int           `json:"schema_version"`
	Question  string        `json:"question"`
	Sentence  string        `json:"sentence"`
	Paragraph string        `json:"paragraph"`
	Notes     []report.Note `json:"notes"`
	Caution   string        `json:"caution"`
	Cautions  []string      `json:"cautions"`
	Invented  bool          `json:"invented"`
	Version   string        `json:"version"`
	Seed      uint64        `json:"seed"`
	Reproduce []string      `json:"reproduce"` // how to get the same numbers
	Warnings  []string      `json:"warnings"`
}

// fitChargesBody is the JSON answer to a log of loads.
type fitChargesBody struct {
	MeasuredHeader
	Fit   measured.ChargeFit `json:"fit"`
	Means []answers.Meant    `json:"full_loads"`
}

// stands adds to a report what stands behind the answer to a log, and returns the header that says
// the same.
func (w Writer) stands(question string, r *report.Report, m *answers.Measured) MeasuredHeader {
	r.Warnings = append(r.Warnings, m.Warnings...)
	r.Reproduce = append(r.Reproduce, m.Command)
	for _, f := range m.Files {
		r.Reproduce = append(r.Reproduce, fileWords(f))
	}
	r.Reproduce = append(r.Reproduce, "drystalk "+w.Version)
	return MeasuredHeader{
		SchemaVersion, question, r.Sentence, r.Words(), r.Notes, r.Caution(), report.Cautions(), m.Invented, w.Version, m.Seed, r.Reproduce, r.Warnings,
	}
}

// Charges writes down what a log of loads tells.
func (w Writer) Charges(a answers.ChargesAnswer) (Document, error) {
	var means []report.FullLoadMeant
	for _, m := range a.Means {
		name := tongue.Sayf("at %.0f %%", 100*m.MoistureWet)
		means = append(means, report.FullLoadMeant{Name: name, AsIsH: m.AsIsH, MeasuredH: m.MeasuredH})
	}
	r, err := report.ForCharges(a.Fit, means, MeasuredFile("charges"))
	if err != nil {
		return Document{}, err
	}
	h := w.stands("fit charges", &r, &a.Measured)
	return with(r, fitChargesBody{h, a.Fit, a.Means})
}

// fitOutputBody is the JSON answer to a tally of cutting.
type fitOutputBody struct {
	MeasuredHeader
	Fit measured.OutputFit `json:"fit"`
}

// fitRacksBody is the JSON answer to a log of weighings.
type fitRacksBody struct {
	MeasuredHeader
	Fit measured.RackFit `json:"fit"`
}

// Output writes down what a tally of cutting tells.
func (w Writer) Output(a answers.OutputAnswer) (Document, error) {
	r, err := report.ForOutput(a.Fit, MeasuredFile("output"))
	if err != nil {
		return Document{}, err
	}
	h := w.stands("fit output", &r, &a.Measured)
	return with(r, fitOutputBody{h, a.Fit})
}

// Racks writes down what a log of weighings tells.
func (w Writer) Racks(a answers.RacksAnswer) (Document, error) {
	r, err := report.ForRacks(a.Fit, MeasuredFile("racks"))
	if err != nil {
		return Document{}, err
	}
	h := w.stands("fit racks", &r, &a.Measured)
	return with(r, fitRacksBody{h, a.Fit})
}
