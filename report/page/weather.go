package page

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"net/http"
	"path"
	"slices"
	"strconv"
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/sim/weather"
	"drystalk/tongue"
)

// What the form asks of the weather, which today and the plan share.
const (
	askStated  = "stated"  // that of the scenario as it was opened
	askStation = "station" // of a station of the table
	askFit     = "fit"     // a daily record is read and judged
	askRecord  = "record"  // the weather of that record
)

// recordPath ends the address that takes a daily record.
const recordPath = "/record"

// mostRecord is the largest daily record that the page takes, bytes: some two hundred years of days
// with all columns.
const mostRecord = 5 << 20

// chosen is the weather that somebody chose; the zero value is that of the scenario.
type chosen struct {
	station string // key of the table
	record  string // name of the file of days
	verdict string // on the fit to it
	climate []byte
}

// stated tells whether the weather is that of the scenario.
func (c *chosen) stated() bool { return c.station == "" && c.climate == nil }

// words says which weather was chosen; "" for that of the scenario.
func (c *chosen) words(t *Text) string {
	switch {
	case c.climate != nil:
		return fmt.Sprintf(t.Weather.OfRecord.String(), c.record, c.verdict)
	case c.station != "":
		return fmt.Sprintf(t.Weather.OfStation.String(), stationName(c.station))
	}
	return ""
}

// stationName returns the name of a station of the table with its country; its key where it is not
// there.
func stationName(key string) string {
	for _, c := range scenarios.StationChoices() {
		if c.Key == key {
			return c.Name + ", " + c.Country
		}
	}
	return key
}

// days is a daily record that somebody sent, with what its fit needs besides.
type days struct {
	name    string // of its file, as a command line names it
	content string // hash
	record  *weather.Record
	rest    answers.Rest
	station string              // of the table, that gives the rest; "" for the scenario
	of      *scenarios.Scenario // that does otherwise
}

// named returns the weather that a form names.
func (p *plan) named(e *edit) (chosen, error) {
	switch e.ask {
	case askStation:
		key := e.form.Get("station")
		if !isStation(key) {
			return chosen{}, nameFault(tongue.Sayf("found %s, allowed: a station of the list", strconv.Quote(key)))
		}
		return chosen{station: key}, nil
	case askRecord:
		p.mu.Lock()
		defer p.mu.Unlock()
		if p.record == nil || p.record.verdict == weather.VerdictUseless {
			return chosen{}, nameFault(English.Weather.NoRecord)
		}
		return *p.record, nil
	}
	return chosen{}, nil
}

func isStation(key string) bool {
	return slices.ContainsFunc(scenarios.StationChoices(), func(c scenarios.StationChoice) bool { return c.Key == key })
}

// inWeather returns today and a plan in another weather. What the plan changes of today stays, but for
// what it changes of the weather.
func (p *plan) inWeather(at standing, now *scenarios.Scenario, c chosen) (standing, error) {
	today, err := p.opened, error(nil)
	switch {
	case c.climate != nil:
		today, err = p.opened.InClimate(handedAs(todayFile), handedAs(climateFile), c.climate)
	case c.station != "":
		today, err = p.opened.AtStation(handedAs(todayFile), c.station)
	}
	if err != nil {
		return at, err
	}
	to := standing{today: today, weather: c, besideName: at.besideName}
	if to.now, err = today.WithValues(withoutWeather(differing(at.today, now))); err == nil && at.beside != nil {
		to.beside, err = today.WithValues(withoutWeather(differing(at.today, at.beside)))
	}
	return to, err
}

// withoutWeather takes the values of a weather out.
func withoutWeather(values map[string]string) map[string]string {
	for key := range values {
		if strings.HasPrefix(key, "weather.") {
			delete(values, key)
		}
	}
	return values
}

// readRecord takes a daily record: what is wrong with it is said at once, and changes nothing;
// otherwise a weather is fitted to it and judged.
func (s *Server) readRecord(w http.ResponseWriter, r *http.Request, p *plan) {
	e, err := editOf(r.PostForm)
	if err != nil {
		s.again(w, http.StatusUnprocessableEntity, p, &e, []fault{{What: err.Error()}})
		return
	}
	e.ask = askFit
	e.at = p.stand()
	now, list := s.read(&e)
	sent, wrong := s.daysOf(r, p, e.form.Get("rest"))
	if list = append(list, wrong...); len(list) > 0 {
		s.again(w, http.StatusUnprocessableEntity, p, &e, list)
		return
	}
	e.days = sent
	s.do(w, r, p, &e, now, unasked())
}

// daysOf reads the record of a form, and finds what the record does not hold.
func (s *Server) daysOf(r *http.Request, p *plan, rest string) (*days, []fault) {
	name, data, list := s.recordFile(r)
	if list != nil {
		return nil, list
	}
	record, err := weather.ReadRecord(baseName(name), bytes.NewReader(data))
	if err != nil {
		return nil, []fault{{What: clipped(err.Error())}}
	}
	file := fileName(baseName(name))
	record.Station = strings.TrimSuffix(path.Base(file), path.Ext(file))
	out := &days{name: file, content: scenarios.ContentOf(data), record: record, station: rest, of: p.opened}
	if rest == "" {
		out.rest = answers.Rest{Normals: p.opened.Normals, Months: p.opened.ContractMonths()}
		return out, nil
	}
	if out.rest.Normals, err = scenarios.StationNormals(rest); err != nil || !isStation(rest) {
		return nil, []fault{{Where: "rest", What: tongue.Sayf("found %s, allowed: a station of the list", strconv.Quote(rest))}}
	}
	return out, nil
}

// mostSaid is how many letters of a fault of a record are shown: the first line of what is no text has no
// end.
const mostSaid = 400

// clipped cuts what is too long to be read.
func clipped(text string) string {
	if letters := []rune(text); len(letters) > mostSaid {
		return string(letters[:mostSaid]) + " ..."
	}
	return text
}

// recordFile returns the name and the bytes of the record of a form.
func (s *Server) recordFile(r *http.Request) (name string, data []byte, list []fault) {
	f, head, err := r.FormFile("days")
	if err != nil {
		return "", nil, []fault{{What: s.text.Weather.NoFile.String()}}
	}
	defer func() { _ = f.Close() }()
	data, err = io.ReadAll(io.LimitReader(f, mostRecord+1))
	if err != nil || len(data) > mostRecord {
		return "", nil, []fault{{Where: head.Filename, What: s.text.Weather.TooLarge.String()}}
	}
	return head.Filename, data, nil
}

// fit fits a weather to a record and judges it, as the command of its name does, and keeps it to be
// chosen once that is written down.
func (s *Server) fit(ctx context.Context, p *plan, r *run) (writing, error) {
	d, q := r.days, answers.DefaultFit()
	climate, err := answers.FitWeather(d.record, d.rest.Normals, q)
	if err != nil {
		return nil, errors.Join(append([]error{fmt.Errorf("%s: %w", d.name, err)}, unused(d.record)...)...)
	}
	climate, fit, err := answers.JudgeAsWritten(d.record, climate, d.rest, q, scenarios.AsWritten)
	if err = errors.Join(err, ctx.Err()); err != nil {
		return nil, err
	}
	a := answers.FitAnswer{Files: []answers.File{{Name: d.name, Content: d.content}}, Seed: q.Seed, Fit: fit}
	if d.station != "" {
		a.Command = q.Command(d.name, d.station, "")
	} else {
		a.Command = q.Command(d.name, "", d.of.File)
		a.Files = append(a.Files, answers.File{Name: d.of.File, Content: d.of.Hash})
	}
	data := scenarios.WriteClimate(climate)
	write, err := written(s, s.writer.Fit, func(*answers.FitAnswer) taken { return taken{files: []report.File{{Name: fittedFile, Data: data}}} })(a, nil)
	if err != nil {
		return nil, err
	}
	return write.and(func(out *result) error {
		out.found = slices.Concat([]string{s.text.Weather.years(&fit)}, fit.Why, fit.Summary.Findings)
		out.normals = []report.Table{report.NormalsTable(fit.Summary, d.rest.Normals)}
		p.mu.Lock()
		p.record = &chosen{record: d.name, verdict: fit.Verdict, climate: data}
		p.mu.Unlock()
		return nil
	}), nil
}

// unused says why years of a record are not used, and what looks like a mistake in it.
func unused(rec *weather.Record) (out []error) {
	for _, line := range report.RefusedYears(rec.Summary()) {
		out = append(out, errors.New(line))
	}
	for _, s := range rec.Suspicions {
		out = append(out, errors.New(s.String()))
	}
	return out
}

// weatherView is the weather as the form shows it.
type weatherView struct {
	Words   string // how it is made, of the scenario or chosen
	Chosen  string // which was chosen; "" for that of the scenario
	Stated  string // that of the scenario as it was opened
	Own     bool   // sites have weathers of their own
	Groups  []stationGroup
	Station string // chosen, or typed
	Rest    string // typed
	Record  string // the record that was read last; "" for none
	Verdict string
	Useless bool
	InUse   bool // the record is the weather now
	Typed   bool // something of it was typed
	Fault   string
}

// stationGroup is the stations of one country.
type stationGroup struct {
	Country  string
	Stations []scenarios.StationChoice
}

// weatherView lays the weather out.
func (s *Server) weatherView(p *plan, at standing, record *chosen) weatherView {
	v := weatherView{
		Words: at.now.WeatherWords(), Chosen: at.weather.words(s.text), Stated: p.opened.WeatherOfRegion(), Own: p.opened.HasOwnWeathers(),
		Station: at.weather.station,
	}
	if record != nil {
		v.Record, v.Verdict, v.Useless = record.record, weather.SayVerdict(record.verdict), record.verdict == weather.VerdictUseless
		v.InUse = bytes.Equal(record.climate, at.weather.climate)
	}
	for _, c := range scenarios.StationChoices() {
		if n := len(v.Groups); n == 0 || v.Groups[n-1].Country != c.Country {
			v.Groups = append(v.Groups, stationGroup{Country: c.Country})
		}
		last := &v.Groups[len(v.Groups)-1]
		last.Stations = append(last.Stations, c)
	}
	return v
}
