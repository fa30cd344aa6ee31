package page

import (
	"bytes"
	"net/http"

	"drystalk/tongue"
)

// withPlan finds the plan of a request.
func (s *Server) withPlan(next func(http.ResponseWriter, *http.Request, *plan)) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		s.mu.Lock()
		p := s.plans[r.PathValue("id")]
		if p != nil {
			p.used = s.asked.Add(1)
		}
		s.mu.Unlock()
		if p == nil {
			s.notFound(w)
			return
		}
		next(w, r, p)
	}
}

// ofPlan has a request answered that is of a plan, with numbers written as the plan says.
func (s *Server) ofPlan(next func(http.ResponseWriter, *http.Request, *plan)) http.HandlerFunc {
	return s.withPlan(func(w http.ResponseWriter, r *http.Request, p *plan) {
		s.inNumbersAs(p.opened.NumbersAsIn, func(w http.ResponseWriter, r *http.Request) { next(w, r, p) })(w, r)
	})
}

// plainly has a request answered that is of no plan.
func (s *Server) plainly(next http.HandlerFunc) http.HandlerFunc { return s.inNumbersAs("", next) }

// inNumbersAs has a request answered with numbers written as in a language and country, whatever is
// answered to others meanwhile. What is posted was read before, and the answer is sent after, so that
// nobody waits for another's line.
func (s *Server) inNumbersAs(tag string, next http.HandlerFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if r.Method == http.MethodPost && !s.parsed(w, r) {
			return
		}
		held := held{ResponseWriter: w, code: http.StatusOK}
		if err := tongue.WithNumbersAsIn(tag, func() { next(&held, r) }); err != nil {
			panic(err) // the reader of the scenario has looked at it
		}
		w.WriteHeader(held.code)
		_, _ = w.Write(held.body.Bytes())
	}
}

// held is an answer that is held back until it is whole.
type held struct {
	http.ResponseWriter
	code int
	body bytes.Buffer
}

// WriteHeader holds the status back.
func (h *held) WriteHeader(code int) { h.code = code }

// Write holds a part of the answer back.
func (h *held) Write(data []byte) (int, error) { return h.body.Write(data) }
