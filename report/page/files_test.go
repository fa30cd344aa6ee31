package page

import (
	"bytes"
	"compress/gzip"
	"io"
	"net/http"
	"strings"
	"testing"

	"drystalk/report"
	"drystalk/report/document"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// An answer that stands on no seasons of its own hands out no table of them: neither an empty one nor
// the meaning of its columns; one that does hands out a row for each season of each plan.
func TestNoTableOfNoSeasons(t *testing.T) {
	s := keeper(t, t.TempDir())
	out := &result{files: map[string][]byte{}}
	require.NoError(t, out.take(taken{files: []report.File{{Name: document.BoughtFile, Data: []byte("region: x")}}}))
	assert.Equal(t, 0, out.rows)
	assert.Empty(t, out.packed)
	assert.Equal(t, []fileView{{document.BoughtFile, English.Bought.String()}}, s.fileViews(out))

	at := openedText(t, s, reeds)
	require.Equal(t, http.StatusSeeOther, asked(s, at, dryersAt("compare", "1")).Code)
	p := planAt(t, s, at)
	<-p.run.done
	require.NoError(t, p.run.err)
	assert.Equal(t, 60, p.run.result.rows)
	zip, err := gzip.NewReader(bytes.NewReader(p.run.result.packed[seasonsFile]))
	require.NoError(t, err)
	text, err := io.ReadAll(zip)
	require.NoError(t, err)
	assert.Equal(t, 61, strings.Count(string(text), "\n"), "a head and a row for each of 30 seasons of two plans")
	assert.NotEmpty(t, p.run.result.files[columnsFile])
}

// A browser finds what it shows beside the title: a drawing of the page's own, named where it looks
// for it.
func TestIconIsThere(t *testing.T) {
	s := keeper(t, t.TempDir())
	assert.Contains(t, shown(t, s, "/"), `<link rel="icon" href="/icon.svg"`)
	assert.Contains(t, shown(t, s, "/icon.svg"), "<svg ")
}
