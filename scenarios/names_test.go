package scenarios

import (
	"fmt"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// A site may be called like a group of keys, hold quotes and signs of YAML, or look like a number:
// its file is written and read back, a change of the command line and one of the page's form reach
// it, and what the form changed is said so that the command line gives the same plan.
func TestSitesOfAnyName(t *testing.T) {
	names := []string{
		"dryer", "hub", "sites", "contract", `Stone "Weir"`, "O'Neil's", "a: b", "x=1", "one, two", "true", "null", "17", "1e3", "- dash", "#4", "{a}", "[b]", "*star", "&and", "!bang", "%", "@", "a\\b", "été",
	}
	for _, name := range names {
		text := fmt.Sprintf(`region: Names
season: {start: 1 jun, days: 20}
weather: {wmo_station: 41923}
contract: {stalks_per_month: {jun: 4500}}
sites: {%s: {cutters: 3, stalks_per_person_h: 117, open_rack_m2: 75, dryers: 1, max_dryers: 3}}
`, strconv.Quote(name))
		s, err := Read("names.yaml", []byte(text))
		require.NoError(t, err, name)
		require.Len(t, s.Region.Sites, 1)
		assert.Equal(t, name, s.Region.Sites[0].Name)
		back, err := Read("names.yaml", s.Write())
		require.NoError(t, err, name)
		assert.Equal(t, s.Hash, back.Hash, name)

		more, err := s.With([]string{name + ": dryers=2"})
		require.NoError(t, err, name)
		assert.Equal(t, 2, more.Region.Sites[0].Dryers, name)
		form, err := s.WithValues(map[string]string{"sites." + name + ".dryers": "2", "dryer.shift_end_h": "20", "contract.stalks_per_month.jun": "4600"})
		require.NoError(t, err, name)
		assert.Equal(t, 2, form.Region.Sites[0].Dryers, name)
		again, err := s.With(form.Changes)
		require.NoError(t, err, "%s: %q", name, form.Changes)
		assert.Equal(t, form.Hash, again.Hash, "%s: %q", name, form.Changes)
	}
}
