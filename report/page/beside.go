package page

import (
	"bytes"
	"context"
	"strconv"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
	"drystalk/sim/answers"
	"drystalk/tongue"
)

// What the form asks of a second plan beside the plan.
const (
	askAside  = "aside"  // the plan as it is, set aside
	askBeside = "beside" // a plan of the folder
	askAlone  = "alone"  // none any more
)

// saveBeside puts numbers in place, and a second plan beside them.
func (s *Server) saveBeside(p *plan, e *edit, now *scenarios.Scenario) error {
	to := e.with(now)
	switch e.ask {
	case askAside:
		to.beside, to.besideName = now, s.text.Second.Aside.String()
	case askAlone:
		to.beside, to.besideName = nil, ""
	default:
		name := e.form.Get("beside")
		there, err := s.keptBeside(e.at.today, name)
		if err != nil {
			return err
		}
		to.beside, to.besideName = there, name
	}
	return p.save(e.state, to)
}

// keptBeside returns a plan of the folder as today with other numbers, so that both live through the
// same seasons; a plan that is not that is an error.
func (s *Server) keptBeside(today *scenarios.Scenario, name string) (*scenarios.Scenario, error) {
	if s.folder == "" || checkName(name) != nil {
		return nil, nameFault(tongue.Sayf("found %s, allowed: a plan of the folder", strconv.Quote(name)))
	}
	kept := s.beside(name + planEnd)
	if kept == nil {
		return nil, nameFault(s.text.NotThere)
	}
	there, err := today.WithValues(withoutWeather(differing(today, kept)))
	if err != nil || !sameButWeather(there, kept) {
		return nil, nameFault(tongue.Sayf("found %s, which differs from today by more than numbers of the form, allowed: a plan with the same sites and season", strconv.Quote(name)))
	}
	return there, nil
}

// sameButWeather tells whether two plans say the same but for the weather and what the plan is called.
func sameButWeather(a, b *scenarios.Scenario) bool {
	at, err := b.AtStation(b.Name, anyStation())
	if err != nil {
		return false
	}
	same, err := a.AtStation(b.Name, anyStation())
	return err == nil && bytes.Equal(at.Write(), same.Write())
}

// anyStation returns what stands for the weather where two plans are compared without it.
func anyStation() string { return scenarios.StationChoices()[0].Key }

// three is today and two plans.
type three struct {
	report.Section
	sentence, verdict, again string
}

// compareBeside runs today and the second plan through the same seasons too, and returns what sets all
// three side by side; nil where the second plan is today.
func (s *Server) compareBeside(ctx context.Context, r *run, first report.Compared) (func(*result) error, error) {
	pair, err := scenarios.Pair(r.today, r.beside, r.asked.seed)
	if err != nil || len(pair.Differences) == 0 {
		return nil, err
	}
	b, err := answers.Compare(ctx, pair, r.asked.compare, s.told(r))
	if err != nil {
		return nil, err
	}
	return func(out *result) error {
		d, err := s.writer.Compare(b)
		if err != nil {
			return err
		}
		section, err := report.ForThree(first, document.ComparedOf(b))
		if err != nil {
			return err
		}
		out.three = &three{section, d.Report.Sentence, report.Verdict(b.Comparison), d.Report.Reproduce[0]}
		for _, c := range section.Charts {
			if out.files["chart-"+c.Name+".svg"], err = c.Encode("svg"); err != nil {
				return err
			}
		}
		html, err := d.Report.HTML()
		out.files[besideReport], out.files[besideJSON] = html, d.JSON
		return err
	}, nil
}

// besideView is the second plan as the form shows it.
type besideView struct {
	Name    string // "" without one
	Changes []changeView
}

// threeView is an answer of three plans as the page shows it.
type threeView struct {
	Sentence, Verdict string
	Tables            []report.Table
	Charts            []chartView
}
