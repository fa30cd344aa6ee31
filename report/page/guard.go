package page

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/hex"
	"log"
	"net"
	"net/http"
	"net/url"
	"strings"
)

// Limits of the server: what one page may ask for, and what all may.
const (
	mostBody    = 2 << 20 // bytes of a request
	mostAtOnce  = 32      // requests being answered
	mostPlans   = 200     // kept in memory
	mostRuns    = 2       // under way over all pages
	mostWaiting = 100     // runs that wait for their turn
	mostHeader  = 16 << 10
	mostSeasons = 5000
)

// policy is the content security policy: nothing but what this server sends, no inline script
// or style, no frame around the page, forms back to this server only.
const policy = "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"

// secret returns 128 random bits as text.
func secret() string {
	var b [16]byte
	if _, err := rand.Read(b[:]); err != nil {
		panic(err) // the system gives no randomness
	}
	return hex.EncodeToString(b[:])
}

// guard wraps the handlers: it refuses other hosts (a name that was bound anew to this
// address), posts from other sites and posts without the page's token, bounds size and number
// of requests, sets the headers, and turns a panic into a message.
func (s *Server) guard(next http.Handler) http.Handler {
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		setHeaders(w.Header())
		if status := s.refused(r); status != 0 {
			s.refuse(w, status)
			return
		}
		select {
		case s.slots <- struct{}{}:
			defer func() { <-s.slots }()
		default:
			w.Header().Set("Retry-After", "2")
			s.refuse(w, http.StatusServiceUnavailable)
			return
		}
		defer func() {
			if v := recover(); v != nil {
				log.Printf("a request for %s broke the page: %v", r.URL.Path, v)
				s.broken(w)
			}
		}()
		most := int64(mostBody)
		if strings.HasSuffix(r.URL.Path, recordPath) {
			most += mostRecord
		}
		r.Body = http.MaxBytesReader(w, r.Body, most)
		next.ServeHTTP(w, r)
	})
}

// setHeaders tells the browser that an answer is this page's alone.
func setHeaders(h http.Header) {
	h.Set("Content-Security-Policy", policy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "same-origin")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Cache-Control", "no-store")
}

// refused returns the status of a request that is not for this page or does not come from it,
// and 0 for one that is let in. Only a POST changes something, so only it must come from here.
func (s *Server) refused(r *http.Request) int {
	post := r.Method == http.MethodPost
	switch {
	case !s.ourHost(r.Host):
		return http.StatusMisdirectedRequest
	case !post && r.Method != http.MethodGet && r.Method != http.MethodHead:
		return http.StatusMethodNotAllowed
	case post && (r.Header.Get("Sec-Fetch-Site") == "cross-site" || !s.ourOrigin(r)):
		return http.StatusForbidden
	}
	return 0
}

// ourHost tells whether a Host header names this server on the loopback.
func (s *Server) ourHost(host string) bool {
	name, port, err := net.SplitHostPort(host)
	if err != nil { // a browser leaves the usual port of the web out
		name, port = strings.TrimSuffix(strings.TrimPrefix(host, "["), "]"), "80"
	}
	if port != s.port {
		return false
	}
	return name == "127.0.0.1" || name == "localhost" || name == "::1"
}

// ourOrigin tells whether a post comes from this page: its Origin, or without one the site the
// browser names, is ours.
func (s *Server) ourOrigin(r *http.Request) bool {
	origin := r.Header.Get("Origin")
	if origin == "" {
		site := r.Header.Get("Sec-Fetch-Site")
		return site == "same-origin" || site == "" // no browser: the token must still be right
	}
	u, err := url.Parse(origin)
	return err == nil && u.Scheme == "http" && s.ourHost(u.Host)
}

// ourToken tells whether a form carries the token of this server.
func (s *Server) ourToken(r *http.Request) bool {
	return subtle.ConstantTimeCompare([]byte(r.PostFormValue("token")), []byte(s.token)) == 1
}

func (s *Server) refuse(w http.ResponseWriter, code int) {
	w.Header().Set("Content-Type", "text/plain; charset=utf-8")
	w.WriteHeader(code)
	_, _ = w.Write([]byte(strings.TrimSpace(s.text.Refused.String()+" "+http.StatusText(code)) + "\n"))
}
