package page

import (
	"net/url"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/scenarios"
)

// Where the page shows 6.000 coins, 7.000 is no 7: it is asked about at its field, and nothing changes.
func TestPointOfThousandsIsAskedAbout(t *testing.T) {
	demo, err := scenarios.Demo(scenarios.OneCooperative)
	require.NoError(t, err)
	german, err := demo.With([]string{"numbers_as_in=de"})
	require.NoError(t, err)
	list := entriesOf(german)
	require.NotEmpty(t, list)
	shown := map[string]string{}
	for _, one := range list {
		shown[one.Path] = one.Value
	}
	s := &Server{text: &English}
	read := func(cost string) (*scenarios.Scenario, []fault) {
		shown["money.dryer_cost"] = cost
		return s.read(&edit{form: url.Values{}, values: shown, at: standing{today: german}})
	}
	now, faults := read("7.000")
	assert.Nil(t, now)
	require.Len(t, faults, 1)
	assert.Equal(t, fault{Where: "money.dryer_cost", What: "found 7.000, allowed: 7000 or 7, whichever is meant: its point may part thousands"}, faults[0])
	now, faults = read("7000")
	assert.Empty(t, faults)
	assert.NotNil(t, now)
}
