package page

import (
	"context"
	"encoding/json"
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
)

// functions are what the templates call.
var functions = template.FuncMap{
	"id":     idOf,
	"number": func(x float64) string { return report.Number(x) },
	"choice": func(value string) string {
		if said, ok := English.Choices[value]; ok {
			return said.String()
		}
		return strings.ReplaceAll(value, "_", " ")
	},
	"figure": func(t report.Table, column int) bool { return !t.Said && column >= t.Left },
	"dict": func(pairs ...any) map[string]any {
		out := map[string]any{}
		for i := 0; i+1 < len(pairs); i += 2 {
			out[pairs[i].(string)] = pairs[i+1]
		}
		return out
	},
}

// idOf is the id of the field of a number.
func idOf(path string) string { return "f-" + url.PathEscape(path) }

// fault is something wrong, said to the user.
type fault struct {
	Where string
	What  string
	Field string // the id of its field, where it has one
	Label string // what the field says
}

// view is what the templates show.
type view struct {
	T        *Text
	Token    string
	Version  string
	Faults   []fault
	Cautions []string
	Keeps    bool     // there is a folder of plans
	Names    []string // of the plans in it

	ID        string
	State     int
	Region    string
	Kept      string // the name under which the plan is in the folder
	Name      string // typed, or that
	Other     string // the plan of the folder that is to be set beside, as it was chosen
	Sites     []string
	Second    string // the site that is asked about a dryer more
	Money     bool
	DryerCost string // in words; "" without prices
	Table     *siteTable
	Groups    []group
	Options   []optionView
	Changes   []changeView // from today
	Back      bool         // there is a change to take back
	Older     bool         // the plan was changed since the form was made
	Elsewhere []changeView // what is saved beside what was typed
	Weather   weatherView
	Files     []fileView // of the plan itself
	Beside    besideView
	Run       *runView
}

// changeView is a number that is not as it was.
type changeView struct{ Path, Label, From, To string }

// runView is the last run.
type runView struct {
	Ask       string
	Percent   int
	Said      string // how far it has come
	Under     bool
	Stopped   bool
	Early     bool           // it was stopped and says what was known by then
	Weather   bool           // it judges a record, whose weather may be taken
	Found     []string       // about that record
	Normals   []report.Table // beside it
	Error     string
	Why       []string     // more about the error
	Rows      string       // of the table of seasons, where there are too many to hand it out
	Of        []changeView // what the plan had that differs from today
	Outdated  bool         // the plan was changed since
	Sentence  string
	Verdict   string // whether the purchase of a comparison pays; "" without one
	Paragraph string
	Months    []monthView
	Three     *threeView // with a second plan beside
	Tables    []report.Table
	Charts    []chartView
	Files     []fileView
	Again     []string // how to get the same numbers
}

// monthView is a contract month of today and of the plan, each against its own contract.
type monthView struct{ Month, AskedToday, Today, Asked, Plan, More string }

type chartView struct{ Name, Alt string }

type fileView struct{ Name, Title string }

func (s *Server) view() *view {
	return &view{T: s.text, Token: s.token, Version: s.version, Cautions: report.Cautions(), Keeps: s.folder != "", Names: s.keptNames()}
}

// planView lays out a plan and its last run.
func (s *Server) planView(p *plan) *view {
	p.mu.Lock()
	at, last, state, back, kept, record, rest := p.standing, p.run, p.state, len(p.past) > 0, p.kept, p.record, p.rest
	p.mu.Unlock()
	today, now := at.today, at.now
	v := s.view()
	v.ID, v.State, v.Region, v.Kept, v.Back, v.Money = p.id, state, now.Region.Name, kept, back, now.HasMoney
	v.Name = kept
	if at.beside != nil {
		v.Beside = besideView{at.besideName, s.changes(today, at.beside)}
	}
	v.Weather, v.Files = s.weatherView(p, at, record), s.planFiles(at)
	for i := range now.Region.Sites {
		v.Sites = append(v.Sites, now.Region.Sites[i].Name)
	}
	if now.HasMoney {
		v.DryerCost = report.Number(float64(now.Money.DryerCost)) + " " + now.Currency
	}
	q := unasked()
	if last != nil {
		q = last.asked
	}
	v.Options = s.optionViews(&q, now.Currency)
	v.Table, v.Groups = s.layout(today, now, at.weather.stated())
	v.Changes = s.changes(today, now)
	v.enter(nil, rest)
	if last != nil {
		v.Run = s.runView(last)
		v.Run.Of = s.changes(last.today, last.plan)
		v.Run.Outdated = last.ask != askFit && (last.today.Hash != today.Hash || last.compares() && last.beside != at.beside || !slices.Equal(v.Run.Of, v.Changes))
	}
	return v
}

// changes lists the numbers in which a plan differs from another.
func (s *Server) changes(from, to *scenarios.Scenario) []changeView {
	var out []changeView
	after := to.Entries()
	for i, g := range from.Entries() {
		for j, e := range g.Entries {
			if now := after[i].Entries[j]; now.Value != e.Value {
				out = append(out, changeView{e.Path, s.labelOf(&g, &e, from.Currency), e.Value, now.Value})
			}
		}
	}
	return out
}

// all calls a function with every field of the form.
func (v *view) all(do func(f *field, open func())) {
	if v.Table != nil {
		for _, rows := range []*[]siteRow{&v.Table.Main, &v.Table.Rest} {
			for i := range *rows {
				for j := range (*rows)[i].Cells {
					do(&(*rows)[i].Cells[j], func() { v.Table.Open = v.Table.Open || rows == &v.Table.Rest })
				}
			}
		}
	}
	for g := range v.Groups {
		one := &v.Groups[g]
		for _, list := range []*[]field{&one.Fields, &one.Rest} {
			for f := range *list {
				do(&(*list)[f], func() { one.Open, one.RestOpen = true, one.RestOpen || list == &one.Rest })
			}
		}
	}
}

// against lists the fields in which what was typed is not what is saved.
func (v *view) against() []changeView {
	var out []changeView
	v.all(func(f *field, open func()) {
		if f.Now != f.Value {
			out = append(out, changeView{f.Path, f.Label, f.Value, f.Now})
			open()
		}
	})
	return out
}

// enter puts what was typed back into the fields.
func (v *view) enter(values map[string]string, form url.Values) {
	for k := range v.Options {
		if o := &v.Options[k]; form.Has(o.Name) {
			o.Value = form.Get(o.Name)
		}
	}
	if site := form.Get("second"); site != "" {
		v.Second = site
	}
	if form.Has("station") {
		v.Weather.Station, v.Weather.Rest = form.Get("station"), form.Get("rest")
	}
	if name := form.Get("name"); name != "" {
		v.Name = name
	}
	v.Other = form.Get("beside")
	v.all(func(f *field, open func()) {
		if typed, ok := values[f.Path]; ok {
			f.Now = typed
		}
	})
}

// mark sets each fault beside its field.
func (v *view) mark(list []fault) {
	for at := range list {
		x := &list[at]
		if x.Where == "weather" || x.Where == "days" || x.Where == "rest" {
			v.Weather.Fault = x.What
		}
		for k := range v.Options {
			if o := &v.Options[k]; o.Name == x.Where {
				o.Fault, o.Main = x.What, true
				x.Field, x.Label = o.Name, o.Title
			}
		}
		v.all(func(f *field, open func()) {
			if f.Path == x.Where {
				f.Fault = x.What
				x.Field, x.Label = idOf(f.Path), f.Label
				open()
			}
		})
	}
}

func (s *Server) runView(r *run) *runView {
	v := &runView{Ask: r.ask, Percent: r.percent()}
	if !r.finished() {
		v.Under, v.Said = true, s.progressWords(r)
		return v
	}
	if r.err != nil {
		v.Stopped = errors.Is(r.err, context.Canceled)
		if !v.Stopped {
			lines := strings.Split(r.err.Error(), "\n")
			v.Error, v.Why = lines[0], lines[1:]
		}
		return v
	}
	rep := r.result.report
	v.Early = r.result.stopped
	v.Sentence, v.Paragraph, v.Again = rep.Sentence, rep.Words(), rep.Reproduce
	for _, section := range rep.All() {
		v.Tables = append(v.Tables, section.Tables...)
	}
	v.Weather, v.Found, v.Normals = r.result.found != nil, r.result.found, r.result.normals
	if c := r.result.comparison; c != nil {
		v.Verdict = report.Verdict(*c)
		v.Months = monthsOf(report.SideBySide(*c))
	}
	if t := r.result.three; t != nil {
		v.Three = &threeView{Sentence: t.sentence, Verdict: t.verdict, Tables: t.Tables}
		for _, c := range t.Charts {
			v.Three.Charts = append(v.Three.Charts, chartView{Name: "chart-" + c.Name + ".svg", Alt: c.Alt})
		}
		v.Again = append(v.Again[:1:1], append([]string{t.again}, v.Again[1:]...)...)
		v.Months = nil
	}
	for _, c := range r.result.charts {
		v.Charts = append(v.Charts, chartView{Name: "chart-" + c.Name + ".svg", Alt: c.Alt})
	}
	v.Files = s.fileViews(r.result)
	if r.result.rows > mostRows {
		v.Rows = report.Number(float64(r.result.rows))
	}
	return v
}

func monthsOf(rows [][6]string) []monthView {
	var out []monthView
	for _, r := range rows {
		out = append(out, monthView{r[0], r[1], r[2], r[3], r[4], r[5]})
	}
	return out
}

func (s *Server) showPlan(w http.ResponseWriter, _ *http.Request, p *plan) {
	s.show(w, http.StatusOK, "plan", s.planView(p))
}

// status says how far a run has come, for the script of the page.
func (s *Server) status(w http.ResponseWriter, _ *http.Request, p *plan) {
	p.mu.Lock()
	last := p.run
	p.mu.Unlock()
	out := struct {
		Under   bool   `json:"under_way"`
		Percent int    `json:"percent"` // -1 where that is not known
		Said    string `json:"said"`
	}{}
	if last != nil && !last.finished() {
		out.Under, out.Percent, out.Said = true, last.percent(), s.progressWords(last)
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(out)
}
