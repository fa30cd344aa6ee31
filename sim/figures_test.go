package sim

import (
	"encoding/json"
	"reflect"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// numbers sets every number of a struct, however deep, by a function of its place, and returns
// how many there are.
func numbers(v reflect.Value, set func(k int, x reflect.Value)) int {
	n := 0
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Array:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		default:
			set(n, v)
			n++
		}
	}
	walk(v)
	return n
}

// numbered returns a month whose numbers are 1, 2, 4, ... by place, times a factor.
func numbered(factor int) (m SiteMonth, n int) {
	n = numbers(reflect.ValueOf(&m).Elem(), func(k int, x reflect.Value) {
		if value := factor * (k + 1); x.CanInt() {
			x.SetInt(int64(value))
		} else {
			x.SetFloat(float64(value))
		}
	})
	return m, n
}

// Every number of a month is read by exactly one row of the registry, and every row has a key
// and a name of its own.
func TestEveryNumberHasOneRow(t *testing.T) {
	m, n := numbered(1)
	read, keys, ids := map[float64]string{}, map[string]bool{"": true}, map[FigureID]bool{NoFigure: true}
	for i := range registry {
		f := &registry[i]
		assert.Empty(t, read[f.Of(&m)], "%s reads what another row reads", f.Key)
		read[f.Of(&m)] = f.Key
		assert.False(t, keys[f.Key], "key %q", f.Key)
		assert.False(t, ids[f.ID], "row of %q", f.Key)
		keys[f.Key], ids[f.ID] = true, true
		assert.NotEmpty(t, f.Unit, f.Key)
		assert.NotEqual(t, f.count == nil, f.real == nil, "%s is a count or a real number", f.Key)
	}
	assert.Len(t, read, n, "a number of SiteMonth without a row")
	assert.Len(t, registry, int(FigureCount)-1, "a figure without a row")
	columns := Columns()
	require.Len(t, columns, n)
	for k, c := range columns {
		require.NotNil(t, c.Figure, c.Name)
		assert.InDelta(t, k+1, c.Figure.Of(&m), 0, "columns are in the order of the fields: %s", c.Name)
	}
}

// Months add up and are taken off each other number by number.
func TestMonthsAddEveryNumber(t *testing.T) {
	sum, n := numbered(3)
	one, _ := numbered(1)
	ten, _ := numbered(10)
	sum.Add(&ten)
	left := sum.less(&one)
	require.Greater(t, n, 40)
	for _, c := range Columns() {
		assert.InDelta(t, 13*c.Figure.Of(&one), c.Figure.Of(&sum), 0, c.Name)
		assert.InDelta(t, 12*c.Figure.Of(&one), c.Figure.Of(&left), 0, c.Name)
	}
	months := []SiteMonth{one, ten}
	for i := range registry {
		f := &registry[i]
		want := 11 * f.Of(&one)
		switch f.Kind {
		case AtStart:
			want = f.Of(&one)
		case AtEnd:
			want = f.Of(&ten)
		}
		assert.InDelta(t, want, f.Season(months), 0, f.Key)
	}
}

// The hours of dryers go by the keys of their figures in files.
func TestHoursOfDryersInFiles(t *testing.T) {
	h := DryerHours{DryerHandling: 0.5, DryerFiring: 7.25, DryerNotReady: 3}
	data, err := json.Marshal(h)
	require.NoError(t, err)
	assert.Equal(t, `{"handling_dryer_h":0.5,"firing_dryer_h":7.25,"cooling_dryer_h":0,"waiting_dryer_h":0,"no_stalks_dryer_h":0,"not_wanted_dryer_h":0,"no_time_dryer_h":0,"no_people_dryer_h":0,"no_wood_dryer_h":0,"broken_dryer_h":0,"not_ready_dryer_h":3}`, string(data))
	day, err := json.Marshal(struct {
		Why   FigureID
		Short Lack
		State DryerState
	}{NotCutRain, LacksTenders, DryerNoStalks})
	require.NoError(t, err)
	assert.JSONEq(t, `{"Why": "not_cut_rain", "Short": "people_for_the_fire", "State": "no_stalks"}`, string(day))
	seen := map[string]bool{"": true}
	require.NotEmpty(t, Lacks())
	for _, l := range Lacks() {
		assert.False(t, seen[l.String()], "key of what is short: %q", l)
		seen[l.String()] = true
	}
	require.Len(t, DryerStates(), int(dryerStates))
	for _, s := range DryerStates() {
		back, ok := s.Figure().State()
		assert.True(t, ok)
		assert.Equal(t, s, back)
	}
	_, ok := Cut.State()
	assert.False(t, ok)
}

// Money goes to the nearest hundredth, and what does not fit is the most there is, either way.
func TestAmounts(t *testing.T) {
	for units, want := range map[float64]Amount{0: 0, 12.345: 1235, -12.345: -1235, 0.004: 0, 1e30: 1 << 62, -1e30: -1 << 62} {
		assert.Equal(t, want, AmountOf(units), "%g", units)
	}
	assert.InDelta(t, -12.35, AmountOf(-12.345).Units(), 1e-12)
}

// In JSON an amount stands in units of the currency, to the minor unit, and comes back.
func TestAmountsInJSON(t *testing.T) {
	for a, want := range map[Amount]string{0: "0", 1234: "12.34", -5: "-0.05", 600_000: "6000", 1e14 + 1: "1000000000000.01"} {
		data, err := json.Marshal(struct{ Cost Amount }{a})
		require.NoError(t, err)
		assert.Equal(t, `{"Cost":`+want+`}`, string(data))
		var back struct{ Cost Amount }
		require.NoError(t, json.Unmarshal(data, &back))
		assert.Equal(t, a, back.Cost)
	}
	var a Amount
	require.Error(t, json.Unmarshal([]byte(`"much"`), &a))
}
