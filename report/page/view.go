package page

import (
	"context"
	"encoding/json"
	"errors"
	"html/template"
	"net/http"
	"net/url"

	"drystalk/report"
	"drystalk/scenarios"
)

// functions are what the templates call.
var functions = template.FuncMap{
	"id":     func(path string) string { return "f-" + url.PathEscape(path) },
	"number": func(x float64) string { return report.Number(x) },
	"dict": func(pairs ...any) map[string]any {
		out := map[string]any{}
		for i := 0; i+1 < len(pairs); i += 2 {
			out[pairs[i].(string)] = pairs[i+1]
		}
		return out
	},
}

// fault is something wrong, said to the user.
type fault struct {
	Where string
	What  string
}

// view is what the templates show.
type view struct {
	T        *Text
	Token    string
	Version  string
	Faults   []fault
	Cautions []string

	ID      string
	Region  string
	Groups  []group
	Options []optionView
	Changed int
	Weather string
	Run     *runView
}

// group is the number fields of one place of work.
type group struct {
	scenarios.EntryGroup
	Title  string
	Why    string
	Open   bool // shown at once
	Fields []field
}

// field is one number field.
type field struct {
	scenarios.Entry
	Now     string // as entered
	Changed bool   // against today
	Fault   string
	Main    bool // shown at once
	Step    string
}

// runView is the last run.
type runView struct {
	Ask       string
	Percent   int
	Under     bool
	Waiting   bool
	Stopped   bool
	Error     string
	Sentence  string
	Verdict   string // whether the purchase of a comparison pays; "" without one
	Paragraph string
	Months    []monthView
	Tables    []report.Table
	Charts    []chartView
	Files     []fileView
	Again     []string // how to get the same numbers
	Compared  bool
}

type monthView struct{ Month, Asked, Today, Plan, More string }

type chartView struct{ Name, Alt string }

type fileView struct{ Name, Title string }

func (s *Server) view() *view {
	return &view{T: s.text, Token: s.token, Version: s.version, Cautions: report.Cautions()}
}

// mainKeys are the numbers most plans change; they are shown at once, the rest on demand.
var mainKeys = map[string]bool{
	"cutters": true, "stalks_per_person_h": true, "open_rack_m2": true, "clear_roof_m2": true, "dryers": true, "sheets": true, "sealed_store": true, "longer_shift_h": true,
	"stalks_per_month": true, "shift_end_h": true, "price_per_good_stalk": true, "dryer_cost": true, "wood_per_kg": true, "grant_fraction": true, "loan_fraction": true, "opening_stock_stalks": true,
}

// planView lays out a plan and its last run.
func (s *Server) planView(p *plan) *view {
	p.mu.Lock()
	today, now, last := p.today, p.now, p.run
	p.mu.Unlock()
	v := s.view()
	v.ID, v.Region, v.Weather = p.id, now.Region.Name, now.WeatherWords()
	q := unasked()
	if last != nil {
		q = last.asked
	}
	v.Options = s.optionViews(&q)
	before := map[string]string{}
	for _, g := range today.Entries() {
		for _, e := range g.Entries {
			before[e.Path] = e.Value
		}
	}
	for i, g := range now.Entries() {
		out := group{EntryGroup: g, Title: s.text.Places[g.Place], Why: s.text.PlaceWhy[g.Place], Open: i == 0}
		if g.Site != "" {
			out.Title += ": " + g.Site
		}
		for _, e := range g.Entries {
			f := field{Entry: e, Now: e.Value, Changed: before[e.Path] != e.Value, Main: mainKeys[e.Key], Step: "any"}
			if e.Whole {
				f.Step = "1"
			}
			if f.Changed {
				v.Changed++
				out.Open = true
			}
			out.Fields = append(out.Fields, f)
		}
		v.Groups = append(v.Groups, out)
	}
	if last != nil {
		v.Run = s.runView(last)
	}
	return v
}

// enter puts what was typed back into the fields.
func (v *view) enter(values map[string]string, form url.Values) {
	for k := range v.Options {
		if o := &v.Options[k]; form.Has(o.Name) {
			o.Value = form.Get(o.Name)
		}
	}
	for g := range v.Groups {
		for f := range v.Groups[g].Fields {
			field := &v.Groups[g].Fields[f]
			if typed, ok := values[field.Path]; ok {
				field.Now = typed
			}
		}
	}
}

// mark sets each fault beside its field.
func (v *view) mark(list []fault) {
	for _, x := range list {
		for k := range v.Options {
			if o := &v.Options[k]; o.Name == x.Where {
				o.Fault, o.Main = x.What, true
			}
		}
		for g := range v.Groups {
			for f := range v.Groups[g].Fields {
				if field := &v.Groups[g].Fields[f]; field.Path == x.Where {
					field.Fault, field.Main, v.Groups[g].Open = x.What, true, true
				}
			}
		}
	}
}

func (s *Server) runView(r *run) *runView {
	v := &runView{Ask: r.ask, Percent: int(r.percent.Load())}
	if !r.finished() {
		v.Under, v.Waiting = true, r.waiting.Load()
		return v
	}
	if r.err != nil {
		v.Stopped = errors.Is(r.err, context.Canceled)
		if !v.Stopped {
			v.Error = r.err.Error()
		}
		return v
	}
	rep := r.result.report
	v.Sentence, v.Paragraph, v.Again = rep.Sentence, rep.Words(), rep.Reproduce
	for _, section := range rep.All() {
		v.Tables = append(v.Tables, section.Tables...)
	}
	if c := r.result.comparison; c != nil {
		v.Compared = true
		v.Verdict = report.Verdict(*c)
		v.Months = monthsOf(report.SideBySide(*c))
	}
	for _, c := range r.result.charts {
		v.Charts = append(v.Charts, chartView{Name: "chart-" + c.Name + ".svg", Alt: c.Alt})
	}
	if r.result.files[report.BriefFile] != nil {
		v.Files = append(v.Files, fileView{report.BriefFile, s.text.Brief})
	}
	v.Files = append(v.Files, []fileView{{"report.html", s.text.Report}, {"report.xlsx", s.text.Spreadsheet}, {"figures.csv", s.text.Figures}, {"answer.json", s.text.JSON}}...)
	return v
}

func monthsOf(rows [][5]string) []monthView {
	var out []monthView
	for _, r := range rows {
		out = append(out, monthView{r[0], r[1], r[2], r[3], r[4]})
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
		Under   bool `json:"under_way"`
		Waiting bool `json:"waiting"`
		Percent int  `json:"percent"`
	}{}
	if last != nil {
		out.Under, out.Waiting, out.Percent = !last.finished(), last.waiting.Load(), int(last.percent.Load())
	}
	w.Header().Set("Content-Type", "application/json")
	_ = json.NewEncoder(w).Encode(out)
}
