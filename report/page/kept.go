package page

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"

	"drystalk/report"
	"drystalk/scenarios"
	"drystalk/tongue"
)

// How plans are kept in the folder: the plan under its name, and today and a second plan beside it.
const (
	planEnd   = ".yaml"
	todayEnd  = ".today.yaml"
	openedEnd = ".opened.yaml" // today in the weather that the scenario stated, where another was chosen
	secondEnd = ".beside.yaml" // the second plan, where there is one
	calledEnd = ".beside.txt"  // its name
	mostKept  = 500            // names shown

	openedStem = ".opened" // of the climate files of that
)

// nameOfPlan is what a plan may be called: letters, digits, spaces, - and _, so that it is a file
// of the folder on every system.
var nameOfPlan = regexp.MustCompile(`^[\p{L}\p{N}][\p{L}\p{N}_-]*( [\p{L}\p{N}_-]+)*$`)

// devices are names that some systems do not let a file have.
var devices = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com\d|lpt\d)$`)

// nameFault is what is wrong with the name of a plan.
type nameFault string

// Error says it.
func (f nameFault) Error() string { return string(f) }

// KeepIn lets plans be kept by name in a folder, which is made where it is not there. It returns an
// error where that cannot be.
func (s *Server) KeepIn(folder string) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	info, err := os.Stat(folder)
	switch {
	case err != nil:
		return err
	case !info.IsDir():
		return tongue.Errorf("%s is no folder", folder)
	}
	s.folder = folder
	return nil
}

// checkName tells what is wrong with a name.
func checkName(name string) error {
	if name == "" || len([]rune(name)) > 60 || len(name) > 180 || !nameOfPlan.MatchString(name) || devices.MatchString(name) {
		return nameFault(tongue.Sayf("found %q, allowed: a name of at most 60 letters, digits, spaces, - and _", name))
	}
	return nil
}

// keptNames lists the plans of the folder.
func (s *Server) keptNames() []string {
	if s.folder == "" {
		return nil
	}
	list, err := os.ReadDir(s.folder)
	if err != nil {
		return nil
	}
	var out []string
	for _, one := range list {
		name, plan := strings.CutSuffix(one.Name(), planEnd)
		if plan && one.Type().IsRegular() && checkName(name) == nil && len(out) < mostKept {
			out = append(out, name)
		}
	}
	slices.Sort(out)
	return out
}

// readKept reads a file of the folder, and no other.
func (s *Server) readKept(name string) ([]byte, error) {
	root, err := os.OpenRoot(s.folder)
	if err != nil {
		return nil, err
	}
	defer func() { _ = root.Close() }()
	f, err := root.Open(name)
	if err != nil {
		return nil, err
	}
	defer func() { _ = f.Close() }()
	if info, err := f.Stat(); err != nil || !info.Mode().IsRegular() {
		return nil, tongue.Errorf("%s is no file", name)
	}
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	if err == nil && len(data) > largestFile {
		err = errors.New(s.text.TooLarge.String())
	}
	return data, err
}

// keepByName puts a plan in place and writes it, its today and the plan beside it into the folder. A plan
// of that name that this one did not put there, or that was changed since, is not written over, and
// where nothing can be written nothing is put in place.
func (s *Server) keepByName(p *plan, e *edit, now *scenarios.Scenario) error {
	name, to := strings.TrimSpace(e.form.Get("name")), e.with(now)
	if s.folder == "" {
		return nameFault(s.text.NoFolder)
	}
	if err := checkName(name); err != nil {
		return err
	}
	s.keeping.Lock()
	defer s.keeping.Unlock()
	p.mu.Lock()
	defer p.mu.Unlock()
	if !p.fresh(e.state, now) {
		return errOlder
	}
	there, err := s.readKept(name + planEnd)
	switch {
	case err == nil && (p.kept != name || !bytes.Equal(there, p.keptAs)):
		return nameFault(tongue.Sayf("a plan %q is there already; give another name, or open that one from the start page", name))
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nameFault(err.Error())
	}
	files := keptFiles(p.opened, to, name)
	if _, err := report.WriteFiles(s.folder, files); err != nil {
		return nameFault(err.Error())
	}
	s.tidy(name, files)
	p.put(to)
	p.kept, p.keptAs = name, files[0].Data
	return nil
}

// keptFiles are the files of a plan in the folder: the plan first.
func keptFiles(opened *scenarios.Scenario, at standing, name string) []report.File {
	now, climates := at.now.WriteBeside(name)
	today, _ := at.today.WriteBeside(name)
	files := []report.File{{Name: name + planEnd, Data: now}, {Name: name + todayEnd, Data: today}}
	if at.beside != nil {
		second, _ := at.beside.WriteBeside(name)
		files = append(files, report.File{Name: name + secondEnd, Data: second}, report.File{Name: name + calledEnd, Data: []byte(at.besideName + "\n")})
	}
	if !at.weather.stated() {
		stated, more := opened.WriteBeside(name + openedStem)
		files = append(files, report.File{Name: name + openedEnd, Data: stated})
		climates = append(climates, more...)
	}
	for _, c := range climates {
		files = append(files, report.File(c))
	}
	return files
}

// tidy takes away what was kept of a plan before and is none of its files now.
func (s *Server) tidy(name string, files []report.File) {
	for _, end := range []string{openedEnd, secondEnd, calledEnd} {
		if !slices.ContainsFunc(files, func(f report.File) bool { return f.Name == name+end }) {
			_ = os.Remove(filepath.Join(s.folder, name+end)) // it may not be there
		}
	}
}

// openKept opens a plan of the folder, with today as it was then.
func (s *Server) openKept(w http.ResponseWriter, r *http.Request) {
	name := r.PostFormValue("name")
	if s.folder == "" || checkName(name) != nil {
		s.notFound(w)
		return
	}
	data, err := s.readKept(name + planEnd)
	if err != nil {
		s.faults(w, []fault{{Where: name + planEnd, What: s.text.NotThere.String()}})
		return
	}
	at, opened, err := s.keptStanding(name, data)
	if err != nil {
		s.faults(w, linesOf(name+planEnd, err))
		return
	}
	p := s.keep(opened)
	p.mu.Lock()
	p.standing, p.kept, p.keptAs = at, name, data
	p.mu.Unlock()
	http.Redirect(w, r, "/plan/"+p.id, http.StatusSeeOther)
}

// keptStanding returns how a plan of the folder stands, and today as it was opened: in the weather that
// it stated. An error is what is wrong with the plan.
func (s *Server) keptStanding(name string, data []byte) (at standing, opened *scenarios.Scenario, err error) {
	if at.now, err = scenarios.ReadWith(name+planEnd, data, s.readKept); err != nil {
		return at, nil, err
	}
	at.today = at.now
	if before := s.beside(name + todayEnd); before != nil {
		at.today, at.now = fromToday(before, at.now)
	}
	if at.beside, at.besideName, err = s.keptSecond(name, at.today); err != nil {
		return at, nil, err
	}
	opened = s.beside(name + openedEnd)
	if opened == nil || at.today == at.now {
		return at, at.today, nil
	}
	station, climate, file := at.today.ChosenWeather()
	if at.weather.station = station; climate != nil {
		at.weather = chosen{record: climate.Station, verdict: climate.Judged.Verdict, climate: file}
	}
	return at, opened, nil
}

// keptSecond returns the plan that is kept beside another, as today with other numbers, and its name; nil
// without one. An error is what is wrong with it.
func (s *Server) keptSecond(name string, today *scenarios.Scenario) (second *scenarios.Scenario, called string, err error) {
	file := name + secondEnd
	data, err := s.readKept(file)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, "", nil
	}
	if err != nil {
		return nil, "", tongue.Errorf("%s: %w", file, err)
	}
	kept, err := scenarios.ReadWith(file, data, s.readKept)
	if err != nil {
		return nil, "", err
	}
	second, err = today.WithValues(differing(today, kept))
	if err != nil || !bytes.Equal(second.Write(), kept.Write()) {
		return nil, "", tongue.Errorf("%s: found a plan which differs from today by more than numbers of the form, allowed: a plan with the same sites and season; without the file the plan opens alone", file)
	}
	if data, err := s.readKept(name + calledEnd); err == nil {
		called = strings.TrimSpace(string(data))
	}
	if called == "" || len([]rune(called)) > 60 {
		called = s.text.Second.Aside.String()
	}
	return second, called, nil
}

// beside reads a scenario of the folder; nil where it is not there or cannot be read.
func (s *Server) beside(name string) *scenarios.Scenario {
	data, err := s.readKept(name)
	if err != nil {
		return nil
	}
	read, err := scenarios.ReadWith(name, data, s.readKept)
	if err != nil {
		return nil
	}
	return read
}

// fromToday returns today and the plan as today with other numbers. Where the plan cannot be made
// from today so, such as after somebody has changed a file, the plan is today.
func fromToday(today, plan *scenarios.Scenario) (before, now *scenarios.Scenario) {
	now, err := today.WithValues(differing(today, plan))
	if err != nil || !bytes.Equal(now.Write(), plan.Write()) {
		return plan, plan
	}
	return today, now
}

// differing returns the values of a plan that are not those of today, by path.
func differing(today, plan *scenarios.Scenario) map[string]string {
	before := map[string]string{}
	for _, one := range entriesOf(today) {
		before[one.Path] = one.Value
	}
	values := map[string]string{}
	for _, one := range entriesOf(plan) {
		if before[one.Path] != one.Value {
			values[one.Path] = one.Value
		}
	}
	return values
}

// linesOf lists what is wrong with a file, line by line.
func linesOf(name string, err error) []fault {
	var faults scenarios.Faults
	if !errors.As(err, &faults) {
		return []fault{{Where: name, What: err.Error()}}
	}
	var list []fault
	for _, x := range faults {
		where := fmt.Sprintf("%s:%d", x.File, x.Line)
		if x.Key != "" {
			where += ": " + x.Key
		}
		list = append(list, fault{Where: where, What: x.Says()})
	}
	return list
}
