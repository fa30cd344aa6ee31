package page

import (
	"bytes"
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"drystalk/scenarios"
	"drystalk/tongue"
)

// What the form asks for besides the questions.
const (
	askSave  = "save"  // the numbers, without a run
	askReset = "reset" // all numbers back to today's
	askBack  = "back"  // the numbers before the last change
	askKeep  = "keep"  // the plan by its name, in the folder of plans
)

// mostPast is how many changes of a plan can be taken back.
const mostPast = 50

// edit is what somebody posts: the numbers as typed, and what is asked of them.
type edit struct {
	form   url.Values
	values map[string]string // as typed, by the path of each
	ask    string
	state  int      // of the plan that the form was made of; -1 where a program posts without one
	at     standing // of the plan as the form reached it
	days   *days    // a daily record that came along
}

// editOf reads what a form asks for.
func editOf(form url.Values) (edit, error) {
	e := edit{form: form, values: numbersOf(form), ask: form.Get("ask"), state: -1}
	if e.ask == "" {
		e.ask = askSave
	}
	if text := form.Get("state"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 {
			return e, tongue.Errorf("state: found %q, allowed: the number in the form", text)
		}
		e.state = n
	}
	return e, nil
}

// numbersOf returns the fields of a form that are numbers of the plan, by the path of each.
func numbersOf(form url.Values) map[string]string {
	values := map[string]string{}
	for name, list := range form {
		if path, ok := strings.CutPrefix(name, "n:"); ok && len(list) > 0 {
			values[path] = list[0]
		}
	}
	return values
}

// read returns the plan with the numbers of the form, or what is wrong with them.
func (s *Server) read(e *edit) (*scenarios.Scenario, []fault) {
	today := e.at.today
	values, list := s.plainValues(today, e.values)
	if path := e.form.Get("undo"); path != "" {
		for _, one := range entriesOf(today) {
			if one.Path == path {
				values[path] = one.Value
			}
		}
	}
	if e.ask == askSecond {
		at, more, ok := oneMoreDryer(today, e.form.Get("second"))
		if !ok {
			list = append(list, fault{Where: "second", What: tongue.Sayf("found %s, allowed: a site of the plan", strconv.Quote(e.form.Get("second")))})
		}
		values[at] = more
	}
	now, err := today.WithValues(values)
	return now, append(list, faultsOf(err)...)
}

// plainValues returns typed numbers as the program reads them; what can be read in two ways is a
// fault, and a text is left alone.
func (s *Server) plainValues(today *scenarios.Scenario, typed map[string]string) (map[string]string, []fault) {
	values := map[string]string{}
	var list []fault
	known := map[string]scenarios.Entry{}
	for _, one := range entriesOf(today) {
		known[one.Path] = one
	}
	for path, text := range typed {
		one, ok := known[path]
		if !ok || one.Choices != nil {
			values[path] = text
			continue
		}
		number, ambiguous := plainNumber(text, one.Whole)
		if ambiguous {
			list = append(list, fault{Where: path, What: s.text.ambiguous(text)})
			continue
		}
		values[path] = number
	}
	slices.SortFunc(list, func(a, b fault) int { return strings.Compare(a.Where, b.Where) })
	return values, list
}

// entriesOf returns the numbers of a scenario, one after another.
func entriesOf(s *scenarios.Scenario) []scenarios.Entry {
	var out []scenarios.Entry
	for _, g := range s.Entries() {
		out = append(out, g.Entries...)
	}
	return out
}

// oneMoreDryer returns the path of the dryers of a site and one more than stand there today.
func oneMoreDryer(today *scenarios.Scenario, site string) (path, more string, ok bool) {
	for i := range today.Region.Sites {
		if today.Region.Sites[i].Name == site {
			return "sites." + site + ".dryers", strconv.Itoa(today.Region.Sites[i].Dryers + 1), true
		}
	}
	return "", "", false
}

// change takes what the form says: it takes back, or reads the numbers and runs what is asked.
// Nothing of the plan changes unless all of it can be done.
func (s *Server) change(w http.ResponseWriter, r *http.Request, p *plan) {
	e, err := editOf(r.PostForm)
	if err != nil {
		s.again(w, http.StatusUnprocessableEntity, p, &e, []fault{{What: err.Error()}})
		return
	}
	e.at = p.stand()
	if e.ask == askReset || e.ask == askBack {
		s.back(w, r, p, &e)
		return
	}
	q := unasked()
	list := q.read(r.PostForm)
	now, faults := s.read(&e)
	if list = append(list, append(faults, q.check(e.ask, list)...)...); len(list) > 0 {
		if e.state >= 0 && e.state != p.numbered() {
			s.conflict(w, p, &e) // of another state: fields may be gone
			return
		}
		s.again(w, http.StatusUnprocessableEntity, p, &e, list)
		return
	}
	s.do(w, r, p, &e, now, q)
}

// do saves or runs what was read.
func (s *Server) do(w http.ResponseWriter, r *http.Request, p *plan, e *edit, now *scenarios.Scenario, q questions) {
	to, err := "/plan/"+p.id, error(nil)
	switch {
	case e.form.Get("undo") != "" || e.ask == askSave:
		err = p.save(e.state, e.with(now))
	case e.ask == askAside || e.ask == askAlone || e.ask == askBeside:
		err = s.saveBeside(p, e, now)
	case e.ask == askStated || e.ask == askStation || e.ask == askRecord:
		err = p.saveIn(e, now)
		to += "#weather"
	case e.ask == askKeep:
		err = s.keepByName(p, e, now)
		to += "?kept=1#keep"
	default:
		err = s.start(p, e, now, q)
		to += "#answer"
	}
	var named nameFault
	var wrong scenarios.Faults
	switch {
	case errors.Is(err, errOlder):
		s.conflict(w, p, e)
	case errors.As(err, &wrong):
		s.again(w, http.StatusUnprocessableEntity, p, e, linesOf(handedAs(todayFile), err))
	case errors.As(err, &named) && e.ask != askKeep:
		s.again(w, http.StatusUnprocessableEntity, p, e, []fault{{Where: "weather", What: named.Error()}})
	case errors.As(err, &named):
		s.again(w, http.StatusUnprocessableEntity, p, e, []fault{{Where: "name", What: named.Error()}})
	case err != nil:
		s.again(w, http.StatusConflict, p, e, []fault{{What: err.Error()}})
	default:
		p.remember(e.form)
		http.Redirect(w, r, to, http.StatusSeeOther)
	}
}

// back takes back the last change, or all of them. What was typed and is saved nowhere stands in the
// fields after the last change was taken back, and can be taken back itself after all were.
func (s *Server) back(w http.ResponseWriter, r *http.Request, p *plan, e *edit) {
	typed := e.typed()
	var now *scenarios.Scenario // with what was typed; nil where that is no plan
	if len(typed) > 0 && e.ask == askReset {
		if read, faults := s.read(e); len(faults) == 0 {
			now = read
		}
	}
	if !p.takeBack(e, now) {
		s.conflict(w, p, e)
		return
	}
	p.remember(e.form)
	if len(typed) == 0 || e.ask == askReset {
		http.Redirect(w, r, "/plan/"+p.id, http.StatusSeeOther)
		return
	}
	v := s.planView(p)
	v.enter(typed, e.form)
	s.show(w, http.StatusOK, "plan", v)
}

// typed returns the fields of the form that are not as the plan has them.
func (e *edit) typed() map[string]string {
	out := map[string]string{}
	for _, one := range entriesOf(e.at.now) {
		if text, there := e.values[one.Path]; there && text != one.Value {
			out[one.Path] = text
		}
	}
	return out
}

// remember keeps what else stood in a form, such as numbers of seasons, so that the next page has it.
func (p *plan) remember(form url.Values) {
	rest := url.Values{}
	for name, list := range form {
		if !strings.HasPrefix(name, "n:") {
			rest[name] = list
		}
	}
	p.mu.Lock()
	p.rest = rest
	p.mu.Unlock()
}

// again shows the page with all that was typed and with what is wrong.
func (s *Server) again(w http.ResponseWriter, code int, p *plan, e *edit, list []fault) {
	v := s.planView(p)
	v.enter(e.values, e.form)
	v.Faults = list
	v.mark(list)
	if at := len(list) - 1; e.ask == askFit && at >= 0 && list[at].Where == "" {
		v.Weather.Fault = list[at].What
	}
	s.show(w, code, "plan", v)
}

// conflict shows that the plan was changed elsewhere since the form was made: what was typed stands
// in the fields, what is saved beside it, and a press of a button puts it in place.
func (s *Server) conflict(w http.ResponseWriter, p *plan, e *edit) {
	v := s.planView(p)
	v.enter(e.values, e.form)
	v.Elsewhere = v.against()
	v.Older = true
	s.show(w, http.StatusConflict, "plan", v)
}

// errOlder is returned where the plan was changed since the form was made.
var errOlder error = tongue.Fault("the plan was changed in another window since this one was opened")

// numbered returns the number of the state of the plan.
func (p *plan) numbered() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	return p.state
}

// with returns the plan with other numbers, as the form found it.
func (e *edit) with(now *scenarios.Scenario) standing {
	to := e.at
	to.now = now
	return to
}

// fresh tells, under the lock of the plan, whether a form was made of the plan as it is, or says
// the same as it.
func (p *plan) fresh(state int, now *scenarios.Scenario) bool {
	return state < 0 || state == p.state || now != nil && bytes.Equal(now.Write(), p.now.Write())
}

// save puts numbers in place; errOlder where the plan was changed since the form was made.
func (p *plan) save(state int, to standing) error {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.fresh(state, to.now) {
		return errOlder
	}
	p.put(to)
	return nil
}

// saveIn puts numbers in place with the weather that a form names.
func (p *plan) saveIn(e *edit, now *scenarios.Scenario) error {
	c, err := p.named(e)
	if err != nil {
		return err
	}
	to, err := p.inWeather(e.at, now, c)
	if err != nil {
		return err
	}
	return p.save(e.state, to)
}

// put puts numbers and their weather in place, under the lock of the plan; what was there can be taken
// back.
func (p *plan) put(to standing) {
	if bytes.Equal(to.now.Write(), p.now.Write()) && to.today.Hash == p.today.Hash && to.beside == p.beside {
		return
	}
	p.past = append(p.past, p.standing)
	if len(p.past) > mostPast {
		p.past = p.past[1:]
	}
	p.standing = to
	p.state++
}

// takeBack takes back the last change, or all of them with what was typed, nil for nothing; false where
// the plan was changed since the form was made.
func (p *plan) takeBack(e *edit, typed *scenarios.Scenario) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.fresh(e.state, nil) {
		return false
	}
	switch n := len(p.past); {
	case e.ask == askReset:
		to := p.standing
		if typed != nil {
			to.now = typed
			p.put(to)
		}
		to.now = p.today
		p.put(to)
	case n > 0:
		p.standing, p.past = p.past[n-1], p.past[:n-1]
		p.state++
	}
	return true
}

// faultsOf lists what is wrong with a plan, by the key of its field where it has one.
func faultsOf(err error) (list []fault) {
	var faults scenarios.Faults
	switch {
	case errors.As(err, &faults):
		for _, x := range faults {
			list = append(list, fault{Where: x.Key, What: x.Says()})
		}
	case err != nil:
		list = append(list, fault{What: err.Error()})
	}
	return list
}
