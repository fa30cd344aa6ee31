package sim

import (
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// fill gives every field below v a value that is not its zero, two entries to every list and
// one to every map, so that nothing can be left out of a copy unnoticed.
func fill(t *testing.T, v reflect.Value) {
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			fill(t, v.Field(i))
		}
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		fill(t, v.Index(0))
		fill(t, v.Index(1))
	case reflect.Map:
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		fill(t, key)
		fill(t, value)
		v.Set(reflect.MakeMap(v.Type()))
		v.SetMapIndex(key, value)
	case reflect.String:
		v.SetString("reed")
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(3)
	case reflect.Float64:
		v.SetFloat(0.5)
	default:
		t.Fatalf("%s: a kind that this test does not know", v.Type())
	}
}

// shared lists the paths of the lists and maps that two values have in common, and counts all
// that were looked at.
func shared(path string, a, b reflect.Value, seen *int) (out []string) {
	switch a.Kind() {
	case reflect.Struct:
		for i := range a.NumField() {
			out = append(out, shared(path+"."+a.Type().Field(i).Name, a.Field(i), b.Field(i), seen)...)
		}
	case reflect.Slice:
		*seen++
		if a.Pointer() == b.Pointer() {
			return []string{path}
		}
		for i := range a.Len() {
			out = append(out, shared(path+"[]", a.Index(i), b.Index(i), seen)...)
		}
	case reflect.Map:
		*seen++
		if a.Pointer() == b.Pointer() {
			return []string{path}
		}
	}
	return out
}

// A clone equals its region and shares no list and no map with it, at any depth.
func TestCloneSharesNothing(t *testing.T) {
	var r Region
	fill(t, reflect.ValueOf(&r).Elem())
	c := r.Clone()
	assert.Equal(t, &r, c)
	seen := 0
	assert.Empty(t, shared("Region", reflect.ValueOf(r), reflect.ValueOf(*c), &seen))
	require.GreaterOrEqual(t, seen, 7, "two maps of the contract, sites, the closures of two of them, moves, holidays")
	copied := r
	assert.NotEmpty(t, shared("Region", reflect.ValueOf(r), reflect.ValueOf(copied), &seen), "a plain copy shares them")
}

// What a clone has done to it, its region does not feel; nothing stays nothing.
func TestCloneIsItsOwn(t *testing.T) {
	r := small(landing1(1))
	r.Sites[0].Closed = []Closure{{FirstDay: 3, LastDay: 4}}
	c := r.Clone()
	c.Sites[0].Dryers, c.Sites[0].Closed[0].LastDay, c.Contract.StalksByMonth[time.June] = 9, 60, 1
	assert.Equal(t, 1, r.Sites[0].Dryers)
	assert.Equal(t, 4, r.Sites[0].Closed[0].LastDay)
	assert.Equal(t, 20_000, r.Contract.StalksByMonth[time.June])
	assert.Equal(t, &Region{}, (&Region{}).Clone())
}
