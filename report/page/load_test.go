package page_test

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"regexp"
	"runtime"
	"sort"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.uber.org/goleak"

	"drystalk/report/page"
)

var tokenIn = regexp.MustCompile(`name="token" value="([0-9a-f]{32})"`)

// token reads the token of a page.
func token(t testing.TB, address string) string {
	t.Helper()
	r, err := http.Get(address)
	require.NoError(t, err)
	defer func() { _ = r.Body.Close() }()
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	m := tokenIn.FindSubmatch(body)
	require.NotNil(t, m)
	return string(m[1])
}

// post sends a form as a browser on the page would.
func post(t testing.TB, address, path string, form url.Values) (int, string, string) {
	t.Helper()
	client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	r, err := client.PostForm(address+path, form)
	require.NoError(t, err)
	defer func() { _ = r.Body.Close() }()
	body, err := io.ReadAll(r.Body)
	require.NoError(t, err)
	return r.StatusCode, r.Header.Get("Location"), string(body)
}

// Other hosts, other origins, wrong tokens, wrong methods, files too large and paths into the
// file system are refused, with a policy on every answer; the page lives on.
func TestGuard(t *testing.T) {
	address := serve(t)
	tok := token(t, address)
	host := strings.TrimPrefix(address, "http://")
	ask := func(method, path, body string, headers map[string]string) *http.Response {
		r, err := http.NewRequest(method, address+path, strings.NewReader(body))
		require.NoError(t, err)
		for k, v := range headers {
			if k == "Host" {
				r.Host = v
			} else {
				r.Header.Set(k, v)
			}
		}
		if method == http.MethodPost {
			r.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		}
		client := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
		resp, err := client.Do(r)
		require.NoError(t, err)
		_, _ = io.Copy(io.Discard, resp.Body)
		_ = resp.Body.Close()
		assert.NotEmpty(t, resp.Header.Get("Content-Security-Policy"), "%s %s", method, path)
		assert.NotContains(t, resp.Header.Get("Content-Security-Policy"), "unsafe-inline")
		return resp
	}
	form := "demo=one-cooperative&token=" + tok
	for name, tt := range map[string]struct {
		method, path, body string
		headers            map[string]string
		want               int
	}{
		"a rebound name":               {"GET", "/", "", map[string]string{"Host": "evil.example:80"}, 421},
		"a rebound name, our port":     {"GET", "/", "", map[string]string{"Host": "evil.example:" + host[strings.LastIndex(host, ":")+1:]}, 421},
		"a post from elsewhere":        {"POST", "/start", form, map[string]string{"Origin": "http://evil.example"}, 403},
		"a post from another port":     {"POST", "/start", form, map[string]string{"Origin": "http://127.0.0.1:1"}, 403},
		"a post from a null origin":    {"POST", "/start", form, map[string]string{"Origin": "null"}, 403},
		"a cross-site post":            {"POST", "/start", form, map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		"a post without the token":     {"POST", "/start", "demo=one-cooperative", nil, 403},
		"a post with a wrong token":    {"POST", "/start", "demo=one-cooperative&token=" + strings.Repeat("0", 32), nil, 403},
		"another method":               {"DELETE", "/", "", nil, 405},
		"a body too large":             {"POST", "/start", "x=" + strings.Repeat("y", 3<<20), nil, 413},
		"a path into the files":        {"GET", "/plan/../../etc/passwd", "", nil, 307},
		"an encoded path into files":   {"GET", "/plan/x/file/%2e%2e%2f%2e%2e%2fetc%2fpasswd", "", nil, 404},
		"a plan that is not there":     {"GET", "/plan/" + strings.Repeat("0", 32), "", nil, 404},
		"a demo that is not there":     {"POST", "/start", "demo=../demo/lake-tavari&token=" + tok, nil, 404},
		"as it should be":              {"POST", "/start", form, map[string]string{"Origin": address}, 303},
		"as it should be, by its name": {"GET", "/", "", map[string]string{"Host": "localhost:" + host[strings.LastIndex(host, ":")+1:]}, 200},
	} {
		assert.Equal(t, tt.want, ask(tt.method, tt.path, tt.body, tt.headers).StatusCode, name)
	}
	assert.Equal(t, http.StatusOK, ask("GET", "/", "", nil).StatusCode)
}

// Nonsense in the form is answered in words and nothing is run.
func TestNonsenseInTheForm(t *testing.T) {
	address := serve(t)
	tok := token(t, address)
	_, plan, _ := post(t, address, "/start", url.Values{"demo": {"one-cooperative"}, "token": {tok}})
	for field, value := range map[string]string{
		"n:sites.Heron Point.dryers": "-1", "n:dryer.shift_end_h": "late", "n:no.such.entry": "1", "seasons": "0", "seed": "-3", "n:contract.stalks_per_month.aug": "1e999",
	} {
		form := url.Values{"token": {tok}, "seasons": {"40"}, "seed": {"1"}, "ask": {"compare"}}
		form.Set(field, value)
		code, _, body := post(t, address, plan, form)
		assert.Equal(t, http.StatusUnprocessableEntity, code, field)
		assert.Contains(t, body, "allowed:", field)
		assert.Contains(t, body, "Nothing has been run yet.", field)
	}
}

// loadFor is how long the load test lasts: a moment, longer in .ci/run, or a minute.
func loadFor() time.Duration {
	switch {
	case os.Getenv("DRYSTALK_LOAD") != "":
		return time.Minute
	case os.Getenv("DRYSTALK_LONG") != "":
		return 6 * time.Second
	}
	return 3 * time.Second
}

// Fifty clients post runs and junk; the page goes on answering, its memory stays bounded, and
// when it ends no goroutine is left. DRYSTALK_LOAD=1 makes it a minute.
func TestLoad(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	defer http.DefaultClient.CloseIdleConnections()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	require.NoError(t, err)
	ctx, cancel := context.WithCancel(context.Background())
	done := make(chan error, 1)
	go func() { done <- page.New("test").Serve(ctx, l) }()
	address := "http://" + l.Addr().String()
	tok := token(t, address)

	var asked, answered, refused atomic.Int64
	var mu sync.Mutex
	var waits []float64
	var peak uint64
	end := time.Now().Add(loadFor())
	var all sync.WaitGroup
	for client := range 50 {
		all.Go(func() {
			rng := rand.New(rand.NewPCG(uint64(client), 1))
			jar, _ := cookiejar.New(nil)
			transport := &http.Transport{MaxIdleConnsPerHost: 1}
			defer transport.CloseIdleConnections()
			c := &http.Client{Jar: jar, Timeout: 20 * time.Second, Transport: transport, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
			plan := ""
			for time.Now().Before(end) {
				begin := time.Now()
				var r *http.Response
				var err error
				switch rng.IntN(6) {
				case 0:
					r, err = c.PostForm(address+"/start", url.Values{"demo": {"one-cooperative"}, "token": {tok}})
					if err == nil && r.StatusCode == http.StatusSeeOther {
						plan = r.Header.Get("Location")
					}
				case 1:
					r, err = c.PostForm(address+plan, url.Values{"token": {tok}, "seasons": {"30"}, "seed": {fmt.Sprint(rng.IntN(9))}, "ask": {"compare"}, "n:sites.Heron Point.dryers": {fmt.Sprint(rng.IntN(4))}})
				case 2: // junk
					r, err = c.Post(address+"/upload", "multipart/form-data; boundary=x", strings.NewReader(strings.Repeat("--x\r\n", rng.IntN(1000))))
				case 3:
					r, err = c.PostForm(address+plan, url.Values{"token": {tok}, "n:" + strings.Repeat("a", rng.IntN(5000)): {"1"}})
				case 4:
					r, err = c.Get(address + plan + "/status")
				default:
					r, err = c.Get(address + "/")
				}
				asked.Add(1)
				if err != nil {
					continue
				}
				_, _ = io.Copy(io.Discard, r.Body)
				_ = r.Body.Close()
				answered.Add(1)
				if r.StatusCode == http.StatusServiceUnavailable {
					refused.Add(1)
				}
				assert.NotEqual(t, http.StatusInternalServerError, r.StatusCode)
				mu.Lock()
				waits = append(waits, time.Since(begin).Seconds())
				mu.Unlock()
				time.Sleep(time.Duration(rng.IntN(40)) * time.Millisecond)
			}
		})
	}
	go func() {
		for time.Now().Before(end) {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			mu.Lock()
			peak = max(peak, m.HeapAlloc)
			mu.Unlock()
			time.Sleep(200 * time.Millisecond)
		}
	}()
	all.Wait()
	http.DefaultClient.CloseIdleConnections()
	r, err := http.Get(address)
	require.NoError(t, err, "it still answers")
	_ = r.Body.Close()
	assert.Equal(t, http.StatusOK, r.StatusCode)
	http.DefaultClient.CloseIdleConnections()
	cancel()
	require.NoError(t, <-done)
	sort.Float64s(waits)
	require.NotEmpty(t, waits)
	mu.Lock()
	defer mu.Unlock()
	t.Logf("%d requests, %d answered, %d told to come again; median %.0f ms, 99 %% %.0f ms; heap at most %d MB",
		asked.Load(), answered.Load(), refused.Load(), 1000*waits[len(waits)/2], 1000*waits[len(waits)*99/100], peak>>20)
	assert.Greater(t, float64(answered.Load()), 0.95*float64(asked.Load()))
	assert.Less(t, waits[len(waits)/2], 3.0)
	assert.Less(t, peak, uint64(1<<30))
}
