// Package page is the local web page: planner and cooperative change a plan in plain number
// fields and see the same answers as on the command line. It listens on the loopback and keeps
// everything in memory; it reads and writes files only in a folder of plans, where one is named.
package page

import (
	"bytes"
	"context"
	"embed"
	"errors"
	"html/template"
	"io"
	"log"
	"net"
	"net/http"
	"runtime"
	"strconv"
	"sync"
	"sync/atomic"
	"time"

	"golang.org/x/net/netutil"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/scenarios"
)

//go:embed start.gohtml plan.gohtml shell.gohtml parts.gohtml answer.gohtml page.css page.js icon.svg
var assets embed.FS

// Server is the page.
type Server struct {
	version string
	writer  document.Writer
	text    *Text
	token   string // in every form
	port    string
	workers int

	ctx     context.Context // of all runs
	stop    context.CancelFunc
	runs    sync.WaitGroup
	turn    chan struct{} // one entry to a run under way
	slots   chan struct{} // one entry to a request being answered
	waiting atomic.Int64
	asked   atomic.Int64
	clock   func() time.Time // of runs and papers, not of seasons

	folder  string     // of plans kept by name; "" for none
	keeping sync.Mutex // one plan is written there at a time

	mu    sync.Mutex
	plans map[string]*plan

	pages map[string]*template.Template
}

// New returns a page that uses so many processors for a run.
func New(version string) *Server {
	ctx, stop := context.WithCancel(context.Background())
	s := &Server{
		version: version, writer: document.Writer{Version: version}, text: &English, token: secret(), workers: max(1, runtime.GOMAXPROCS(0)),
		ctx: ctx, stop: stop, turn: make(chan struct{}, mostRuns), slots: make(chan struct{}, mostAtOnce), plans: map[string]*plan{}, pages: map[string]*template.Template{},
	}
	s.clock = time.Now //nolint:forbidigo // how long a run takes and the date of a paper, not that of a season
	for _, name := range []string{"start", "plan"} {
		s.pages[name] = template.Must(template.New("shell.gohtml").Funcs(functions).ParseFS(assets, "shell.gohtml", "parts.gohtml", "answer.gohtml", name+".gohtml"))
	}
	return s
}

// Serve answers on a listener until the context ends; then it stops all runs and returns when
// they have ended. The listener must be of the loopback.
func (s *Server) Serve(ctx context.Context, l net.Listener) error {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return err
	}
	s.port = port
	server := &http.Server{
		Handler: s.Handler(), ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 20 * time.Second, WriteTimeout: 60 * time.Second, IdleTimeout: 30 * time.Second,
		MaxHeaderBytes: mostHeader, ErrorLog: log.New(io.Discard, "", 0),
	}
	ended := make(chan struct{})
	go func() {
		defer close(ended)
		<-ctx.Done()
		s.stop()
		timeout, cancel := context.WithTimeout(context.Background(), 5*time.Second)
		defer cancel()
		if err := server.Shutdown(timeout); err != nil {
			_ = server.Close()
		}
	}()
	err = server.Serve(netutil.LimitListener(l, 4*mostAtOnce))
	if errors.Is(err, http.ErrServerClosed) {
		err = nil
	}
	if ctx.Err() == nil {
		return err // the listener failed; nothing waits for the context
	}
	<-ended
	s.runs.Wait()
	return err
}

// Handler returns the page for a server of one's own; the port must be known by then.
func (s *Server) Handler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("GET /{$}", s.plainly(s.begin))
	mux.HandleFunc("POST /start", s.plainly(s.open))
	mux.HandleFunc("POST /upload", s.plainly(s.upload))
	mux.HandleFunc("POST /kept", s.plainly(s.openKept))
	mux.HandleFunc("GET /plan/{id}", s.ofPlan(s.showPlan))
	mux.HandleFunc("POST /plan/{id}", s.ofPlan(s.change))
	mux.HandleFunc("POST /plan/{id}"+recordPath, s.ofPlan(s.readRecord))
	mux.HandleFunc("POST /plan/{id}/stop", s.ofPlan(s.stopRun))
	mux.HandleFunc("GET /plan/{id}/status", s.ofPlan(s.status))
	mux.HandleFunc("GET /plan/{id}/file/{name}", s.withPlan(s.file))
	handOut(mux, "page.css", "text/css; charset=utf-8", asset("page.css"))
	handOut(mux, "icon.svg", kinds["svg"], asset("icon.svg"))
	handOut(mux, "page.js", script, asset("page.js"))
	handOut(mux, "sort.js", script, []byte(report.SortingScript()))
	mux.HandleFunc("/", s.plainly(func(w http.ResponseWriter, _ *http.Request) { s.notFound(w) }))
	return s.guard(mux)
}

// script is the media type of scripts.
const script = "text/javascript; charset=utf-8"

// asset is a file that is part of the program.
func asset(name string) []byte {
	data, err := assets.ReadFile(name)
	if err != nil {
		panic(err) // the file is part of the program
	}
	return data
}

// handOut hands out a file that is the same for everybody.
func handOut(mux *http.ServeMux, name, kind string, data []byte) {
	mux.HandleFunc("GET /"+name, func(w http.ResponseWriter, _ *http.Request) {
		w.Header().Set("Content-Type", kind)
		_, _ = w.Write(data)
	})
}

// keep adds a plan and lets the one that was not asked for longest make room, with its run.
func (s *Server) keep(today *scenarios.Scenario) *plan {
	p := &plan{id: secret(), opened: today, standing: standing{today: today, now: today}, used: s.asked.Add(1)}
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.plans) >= mostPlans {
		var oldest *plan
		for _, q := range s.plans {
			if oldest == nil || q.used < oldest.used {
				oldest = q
			}
		}
		oldest.mu.Lock()
		if oldest.run != nil {
			oldest.run.cancel()
		}
		oldest.mu.Unlock()
		delete(s.plans, oldest.id)
	}
	s.plans[p.id] = p
	return p
}

// begin shows where everybody begins.
func (s *Server) begin(w http.ResponseWriter, _ *http.Request) {
	s.show(w, http.StatusOK, "start", s.view())
}

// stopRun stops the run of a plan. Where the numbers of the form came along, they are shown as they
// were typed: stopping saves nothing and loses nothing.
func (s *Server) stopRun(w http.ResponseWriter, r *http.Request, p *plan) {
	p.mu.Lock()
	if p.run != nil {
		p.run.cancel()
	}
	p.mu.Unlock()
	typed := numbersOf(r.PostForm)
	if len(typed) == 0 {
		http.Redirect(w, r, "/plan/"+p.id+"#answer", http.StatusSeeOther)
		return
	}
	v := s.planView(p)
	if state, err := strconv.Atoi(r.PostForm.Get("state")); err == nil {
		v.State = state // stopping is no leave to write over what another window saved
	}
	v.enter(typed, r.PostForm)
	s.show(w, http.StatusOK, "plan", v)
}

// show writes a page.
func (s *Server) show(w http.ResponseWriter, code int, name string, v any) {
	var b bytes.Buffer
	if err := s.pages[name].Execute(&b, v); err != nil {
		log.Printf("page %s: %v", name, err)
		s.broken(w)
		return
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write(b.Bytes())
}

// faults shows what is wrong with what was opened.
func (s *Server) faults(w http.ResponseWriter, list []fault) {
	v := s.view()
	v.Faults = list
	s.show(w, http.StatusUnprocessableEntity, "start", v)
}

func (s *Server) notFound(w http.ResponseWriter) {
	v := s.view()
	v.Faults = []fault{{What: s.text.NotFound.String()}}
	s.show(w, http.StatusNotFound, "start", v)
}

func (s *Server) broken(w http.ResponseWriter) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(http.StatusInternalServerError)
	_, _ = w.Write([]byte(s.text.Broken + ". " + s.text.BrokenLead + "\n"))
}
