package report

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/report/internal/sample"
	"drystalk/sim"
)

var update = flag.Bool("update", false, "rewrite the golden files")

// golden compares bytes with a file, or rewrites it.
func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("../testdata/golden", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, string(want), string(got), name)
}

// The text and page of a made-up answer, and its charts by name; `go test ./report -update` rewrites them.
func TestGolden(t *testing.T) {
	r, err := ForDryers(sample.Answer(), "coins", "")
	require.NoError(t, err)
	r.Assumptions = []sim.Assumption{{Name: "mould growth", Value: "1, 1.5, 2.5 times pine", Source: "assumption", VariedInTrials: true}}
	r.Reproduce = []string{"drystalk dryers"}
	golden(t, "dryers.txt", []byte(r.Text()))
	files, err := r.Files("svg", "png")
	require.NoError(t, err)
	names := map[string][]byte{}
	for _, f := range files {
		names[f.Name] = f.Data
	}
	golden(t, "report.html", names["report.html"])
	for _, name := range []string{"odds-by-dryers.svg", "hub-stock.svg", "losses.svg", "what-was-short.svg"} { // their bytes: report/chart
		assert.Contains(t, names, name)
	}
	for _, name := range []string{"odds-by-dryers.png", "hub-stock.png", "losses.png"} {
		assert.True(t, strings.HasPrefix(string(names[name]), "\x89PNG"), name)
	}
	page := string(names["report.html"])
	assert.False(t, strings.Contains(page, "Lake <b>"), "names are escaped")
	assert.True(t, strings.Contains(page, "Lake &lt;b&gt; &amp; &#34;Tavari&#34;"))
	for _, outside := range []string{" src=", " href=", "@import", "url("} {
		assert.False(t, strings.Contains(page, outside), "nothing is loaded from elsewhere: %s", outside)
	}
}

// Files are written whole, into a folder that is made, and a failure leaves nothing.
func TestWriteFiles(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	paths, err := WriteFiles(dir, []File{{"a.txt", []byte("one")}, {"b.txt", []byte("two")}})
	require.NoError(t, err)
	assert.Len(t, paths, 2)
	_, err = WriteFiles(dir, []File{{"missing/c.txt", []byte("x")}})
	require.Error(t, err)
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	assert.Len(t, entries, 2, "no temporary file stays")
}

// An answer is moved into its folder whole: where one file of it cannot be written, those of the
// answer before stay as they were, and a folder that was made for it goes again.
func TestAnAnswerIsWrittenWholeOrNotAtAll(t *testing.T) {
	dir := t.TempDir()
	_, err := WriteFiles(dir, []File{{"a.txt", []byte("old")}, {"b.txt", []byte("old")}})
	require.NoError(t, err)
	_, err = WriteFiles(dir, []File{{"a.txt", []byte("new")}, {"b.txt", []byte("new")}, {"missing/c.txt", []byte("new")}})
	require.Error(t, err)
	for _, name := range []string{"a.txt", "b.txt"} {
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.Equal(t, "old", string(data), name)
	}
	fresh := filepath.Join(dir, "deep", "down")
	_, err = WriteFiles(fresh, []File{{"missing/c.txt", nil}})
	require.Error(t, err)
	assert.NoDirExists(t, filepath.Join(dir, "deep"))
	require.NoError(t, Ready(fresh))
	assert.NoDirExists(t, filepath.Join(dir, "deep"), "trying leaves nothing")
	require.Error(t, Ready(filepath.Join(dir, "a.txt")))
}
