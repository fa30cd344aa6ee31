package page

import (
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A plan of the folder is set beside as today with its numbers, in the weather that today has now; one
// that differs by more than numbers of the form is refused and changes nothing; each can be taken back.
func TestKeptPlanStandsBeside(t *testing.T) {
	folder := t.TempDir()
	s := keeper(t, folder)
	at := asked(s, "/start", url.Values{"demo": {"one-cooperative"}}).Header().Get("Location")
	p := planAt(t, s, at)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"keep"}, "name": {"Two dryers"}, "n:sites.Heron Point.dryers": {"2"}}).Code)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"station"}, "station": {"43003"}, "n:sites.Heron Point.dryers": {"3"}}).Code)
	w := asked(s, at, url.Values{"ask": {"beside"}, "beside": {"Two dryers"}, "n:sites.Heron Point.dryers": {"3"}})
	require.Equal(t, http.StatusSeeOther, w.Code, w.Body.String())
	now := p.stand()
	assert.Equal(t, []int{1, 3, 2}, []int{now.today.Region.Sites[0].Dryers, now.now.Region.Sites[0].Dryers, now.beside.Region.Sites[0].Dryers})
	station, _, _ := now.beside.ChosenWeather()
	assert.Equal(t, "43003", station)
	assert.Equal(t, "Two dryers", s.planView(p).Beside.Name)

	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"stated"}, "n:sites.Heron Point.dryers": {"3"}}).Code)
	station, _, _ = p.stand().beside.ChosenWeather()
	assert.Empty(t, station, "it goes along with the weather")
	assert.Equal(t, 2, p.stand().beside.Region.Sites[0].Dryers)

	other, err := os.ReadFile(filepath.Join(folder, "Two dryers.yaml"))
	require.NoError(t, err)
	for name, text := range map[string]string{
		"other site":   strings.ReplaceAll(string(other), "Heron Point", "Far Point"),
		"other season": strings.Replace(string(other), "days: ", "days: 1", 1),
		"broken":       "region: 3\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(folder, name+".yaml"), []byte(text), 0o644))
		before := p.stand()
		w := asked(s, at, url.Values{"ask": {"beside"}, "beside": {name}, "n:sites.Heron Point.dryers": {"3"}})
		assert.Equal(t, http.StatusUnprocessableEntity, w.Code, name)
		assert.Equal(t, before, p.stand(), name)
	}
	assert.Equal(t, http.StatusUnprocessableEntity, asked(s, at, url.Values{"ask": {"beside"}, "beside": {"../x"}}).Code)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"alone"}, "n:sites.Heron Point.dryers": {"3"}}).Code)
	assert.Nil(t, p.stand().beside)
	require.Equal(t, http.StatusSeeOther, asked(s, at, url.Values{"ask": {"back"}}).Code)
	assert.NotNil(t, p.stand().beside, "that is taken back too")
}
