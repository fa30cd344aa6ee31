package page

import (
	"errors"
	"io"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"drystalk/scenarios"
)

// open begins with a demo.
func (s *Server) open(w http.ResponseWriter, r *http.Request) {
	if !s.parsed(w, r) {
		return
	}
	demo, err := scenarios.Demo(r.PostFormValue("demo"))
	if err != nil {
		s.notFound(w)
		return
	}
	http.Redirect(w, r, "/plan/"+s.keep(demo).id, http.StatusSeeOther)
}

// largestFile is the largest scenario, bytes.
const largestFile = 1 << 20

// upload begins with a file of the user's, read by the same strict reader as on the command
// line. The file may name no other file.
func (s *Server) upload(w http.ResponseWriter, r *http.Request) {
	if !s.parsed(w, r) {
		return
	}
	f, head, err := r.FormFile("file")
	if err != nil {
		s.faults(w, []fault{{Where: s.text.UploadLead, What: s.text.Saved}})
		return
	}
	defer func() { _ = f.Close() }()
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	if err != nil || len(data) > largestFile {
		s.faults(w, []fault{{Where: head.Filename, What: s.text.TooLarge}})
		return
	}
	read, err := scenarios.Read(fileName(baseName(head.Filename)), data)
	var faults scenarios.Faults
	if errors.As(err, &faults) {
		var list []fault
		for _, x := range faults {
			where := x.File + ":" + strconv.Itoa(x.Line)
			if x.Key != "" {
				where += ": " + x.Key
			}
			list = append(list, fault{where, said(x)})
		}
		s.faults(w, list)
		return
	}
	if err != nil {
		s.faults(w, []fault{{Where: head.Filename, What: err.Error()}})
		return
	}
	http.Redirect(w, r, "/plan/"+s.keep(read).id, http.StatusSeeOther)
}

// baseName returns the last part of a name as a browser sends it, whatever it holds.
func baseName(name string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	if name == "" || len(name) > 100 {
		return "the file"
	}
	return name
}

// fileName returns a name as a command line names the file, so that it takes it neither for a flag
// nor for a demo.
func fileName(base string) string {
	if strings.HasPrefix(base, "-") || base == scenarios.LakeTavari || base == scenarios.OneCooperative {
		return "./" + base
	}
	return base
}

// parsed reads a form and checks its token.
func (s *Server) parsed(w http.ResponseWriter, r *http.Request) bool {
	var err error
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/form-data") {
		err = r.ParseMultipartForm(mostBody) // all of it in memory: no file is written
	} else {
		err = r.ParseForm()
	}
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		s.refuse(w, http.StatusRequestEntityTooLarge)
		return false
	case err != nil:
		s.refuse(w, http.StatusBadRequest)
		return false
	case !s.ourToken(r):
		s.refuse(w, http.StatusForbidden)
		return false
	}
	return true
}

// change takes the numbers of the form and runs what was asked.
func (s *Server) change(w http.ResponseWriter, r *http.Request, p *plan) {
	if !s.parsed(w, r) {
		return
	}
	values := numbersOf(r.PostForm)
	q := unasked()
	list := q.read(r.PostForm)
	now, err := p.today.WithValues(values)
	list = append(list, faultsOf(err)...)
	if len(list) > 0 {
		v := s.planView(p)
		v.enter(values, r.PostForm)
		v.Faults = list
		v.mark(list)
		s.show(w, http.StatusUnprocessableEntity, "plan", v)
		return
	}
	ask := askCompare
	if r.PostFormValue("ask") == askDryers {
		ask = askDryers
	}
	p.mu.Lock()
	p.now = now
	p.mu.Unlock()
	if err := s.start(p, ask, q); err != nil {
		v := s.planView(p)
		v.Faults = []fault{{"", err.Error()}}
		s.show(w, http.StatusConflict, "plan", v)
		return
	}
	http.Redirect(w, r, "/plan/"+p.id+"#answer", http.StatusSeeOther)
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

// faultsOf lists what is wrong with a plan, by the key of its field where it has one.
func faultsOf(err error) (list []fault) {
	var faults scenarios.Faults
	switch {
	case errors.As(err, &faults):
		for _, x := range faults {
			list = append(list, fault{x.Key, said(x)})
		}
	case err != nil:
		list = append(list, fault{"", err.Error()})
	}
	return list
}

// said tells what was found and what is allowed.
func said(x scenarios.Fault) string { return "found " + x.Found + ", allowed: " + x.Allowed }
