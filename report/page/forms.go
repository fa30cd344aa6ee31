package page

import (
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"path"
	"strings"

	"drystalk/scenarios"
	"drystalk/tongue"
)

// open begins with a demo.
func (s *Server) open(w http.ResponseWriter, r *http.Request) {
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
// line. The file may name those that come along, and no other.
func (s *Server) upload(w http.ResponseWriter, r *http.Request) {
	f, head, err := r.FormFile("file")
	if err != nil {
		s.faults(w, []fault{{Where: s.text.UploadLead.String(), What: s.text.Saved.String()}})
		return
	}
	defer func() { _ = f.Close() }()
	data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
	if err != nil || len(data) > largestFile {
		s.faults(w, []fault{{Where: head.Filename, What: s.text.TooLarge.String()}})
		return
	}
	read, err := scenarios.ReadWith(fileName(baseName(head.Filename)), data, cameAlong(r.MultipartForm.File["beside"]))
	if err != nil {
		s.faults(w, linesOf(head.Filename, err))
		return
	}
	http.Redirect(w, r, "/plan/"+s.keep(read).id, http.StatusSeeOther)
}

// cameAlong opens a file among those that came with a scenario; they are known by the last part of
// their names.
func cameAlong(files []*multipart.FileHeader) func(name string) ([]byte, error) {
	return func(name string) ([]byte, error) {
		for _, head := range files {
			if head.Filename == "" || baseName(head.Filename) != path.Base(name) {
				continue
			}
			f, err := head.Open()
			if err != nil {
				return nil, err
			}
			defer func() { _ = f.Close() }()
			data, err := io.ReadAll(io.LimitReader(f, largestFile+1))
			if err == nil && len(data) > largestFile {
				err = errors.New("it is larger than 1 MB")
			}
			return data, err
		}
		return nil, errors.New("it was not opened together with the scenario")
	}
}

// baseName returns the last part of a name as a browser sends it, whatever it holds.
func baseName(name string) string {
	name = name[strings.LastIndexAny(name, `/\`)+1:]
	if name == "" || len(name) > 100 {
		return tongue.Say("the file")
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
		err = r.ParseMultipartForm(mostBody + mostRecord) // all of it in memory: no file is written
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
