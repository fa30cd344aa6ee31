package page

import (
	"fmt"
	"sync"
	"time"

	"drystalk/report"
	"drystalk/sim/answers"
)

// progress is how far a run has come.
type progress struct {
	mu       sync.Mutex
	began    time.Time // the run, or the stage it is at
	at       answers.Doing
	done, of int
	staged   bool // it is at a stage, of which more may come
}

// begin says when a run had its turn.
func (p *progress) begin(at time.Time) {
	p.mu.Lock()
	p.began = at
	p.mu.Unlock()
}

// told returns what takes the progress of a run.
func (s *Server) told(r *run) answers.Progress {
	return func(at answers.Doing, done, of int) {
		p := &r.progress
		p.mu.Lock()
		defer p.mu.Unlock()
		if at != p.at || 2*done < p.done { // the next step may be of the same stage
			p.at, p.began = at, s.clock()
		}
		p.done, p.of, p.staged = done, of, p.staged || at.Stage != ""
	}
}

// percent returns how far the run, or the stage it is at, has come; -1 where that is not known.
func (p *progress) percent() int {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.of <= 0 {
		if p.staged {
			return -1
		}
		return 0
	}
	return min(100, 100*p.done/p.of)
}

// left estimates the seconds that are left from the time that was taken; -1 where it is too early to
// tell.
func (p *progress) left(now time.Time) int {
	p.mu.Lock()
	defer p.mu.Unlock()
	taken := now.Sub(p.began).Seconds()
	if p.of <= 0 || p.done <= 0 || taken < 1 || p.done > p.of {
		return -1
	}
	return int(taken*float64(p.of-p.done)/float64(p.done) + 0.5)
}

// progressWords says how far a run has come.
func (s *Server) progressWords(r *run) string {
	if r.waiting.Load() {
		return s.text.Busy.String()
	}
	r.mu.Lock()
	at, staged := r.at, r.staged
	r.mu.Unlock()
	words := s.text.Running.String()
	if doing := report.Doing(at); doing != "" {
		words += ": " + doing
	}
	if percent := r.percent(); percent >= 0 {
		words += fmt.Sprintf(", %d %%", percent)
	}
	if left := r.left(s.clock()); left > 0 {
		format := s.text.Left
		if staged {
			format = s.text.LeftOfStep
		}
		words += fmt.Sprintf(format.String(), s.text.duration(left))
	}
	return words
}
