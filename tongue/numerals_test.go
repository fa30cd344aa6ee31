package tongue

import (
	"bytes"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// as has numbers written as in a language and country for the length of a test.
func as(t *testing.T, tag string) {
	t.Helper()
	require.NoError(t, WriteNumbersAsIn(tag))
	t.Cleanup(func() { require.NoError(t, WriteNumbersAsIn("")) })
}

// How numbers are written in some countries: the Unicode CLDR's symbols and patterns (its charts,
// "Numbers", of version 42 and later; from memory), spaces as the one that no line is broken at, U+00A0.
func TestNumbersAsInOtherCountries(t *testing.T) {
	for _, tt := range []struct{ tag, million, thousand, decimal string }{
		{"", "-1,322,350", "1,000", "0.15"},
		{"en", "-1,322,350", "1,000", "0.15"},
		{"fr", "-1\u00a0322\u00a0350", "1\u00a0000", "0,15"},
		{"fr-SN", "-1\u00a0322\u00a0350", "1\u00a0000", "0,15"},
		{"de", "-1.322.350", "1.000", "0,15"},
		{"pt-BR", "-1.322.350", "1.000", "0,15"},
		{"de-CH", "-1’322’350", "1’000", "0.15"},
		{"en-IN", "-13,22,350", "1,000", "0.15"},
		{"hi", "-13,22,350", "1,000", "0.15"},
		{"ar-EG", "-1,322,350", "1,000", "0.15"}, // in the digits 0 to 9
	} {
		require.NoError(t, WriteNumbersAsIn(tt.tag), tt.tag)
		assert.Equal(t, tt.million, Grouped(-1_322_350), tt.tag)
		assert.Equal(t, tt.thousand, Grouped(1000), tt.tag)
		assert.Equal(t, "999", Grouped(999), tt.tag)
		assert.Equal(t, "0", Grouped(0), tt.tag)
		assert.Equal(t, tt.decimal, Decimal("0.15"), tt.tag)
	}
	require.NoError(t, WriteNumbersAsIn(""))
}

// What is no tag, or no language that anything is known of, is refused and changes nothing.
func TestNumbersAsInNowhere(t *testing.T) {
	as(t, "de")
	for _, tag := range []string{"zz", "german", "1,234", "tlh", "de_DE.UTF-8", "-"} {
		require.Error(t, WriteNumbersAsIn(tag), tag)
		_, err := NumeralsOf(tag)
		require.Error(t, err, tag)
	}
	assert.Equal(t, "1.000", Grouped(1000))
}

// Formats write numbers with decimals by the marks in use, and nothing else: no names, no whole
// numbers; widths and signs hold.
func TestFormatsWriteDecimalsByTheMarks(t *testing.T) {
	as(t, "fr")
	assert.Equal(t, "v1.2 takes 1,5 h, +0,25 or  3,0, 7 of 1,5e+06", Sayf("%s takes %.1f h, %+.2f or %4.1f, %d of %g", "v1.2", 1.5, 0.25, 3.0, 7, 1.5e6))
	assert.Equal(t, "2 times 0,5", Several(2, "once %.1f", "%d times %.1f", 2, 0.5))
	assert.Equal(t, "0,50", Figures("%.2f", 0.5))
	var out bytes.Buffer
	_, err := Fprintf(&out, "%.1f", 2.25)
	require.NoError(t, err)
	assert.Equal(t, "2,2", out.String())
	assert.Equal(t, "found 1.5", Plainf("found %g", 1.5), "nor what is wrong in a file")
	Use(&Language{}) // in which nothing is said otherwise
	t.Cleanup(func() { Use(nil) })
	assert.Equal(t, "found 1.5 on Monday", Plainf("found %g on %s", 1.5, time.Monday))
	Use(nil)
	assert.EqualError(t, Errorf("found %g", 1.5), "found 1.5", "files and flags have one way of writing numbers")
	assert.Equal(t, []string{"1\u00a0000", "stalks"}, Words("1\u00a0000  stalks\n"))
}

// Who writes numbers in one way is not disturbed by who writes them in another meanwhile, and waits for
// nobody who writes them alike; a way that there is not lets nobody in and keeps nobody out.
func TestNumbersOfEachAreTheirOwn(t *testing.T) {
	t.Cleanup(func() { require.NoError(t, WriteNumbersAsIn("")) })
	var all sync.WaitGroup
	first := func(met chan struct{}, other chan struct{}) {
		assert.NoError(t, WithNumbersAsIn("de", func() { // both are in at a time, or neither ends
			close(met)
			<-other
			assert.Equal(t, "1.000", Grouped(1000))
		}))
	}
	one, two := make(chan struct{}), make(chan struct{})
	all.Go(func() { first(one, two) })
	all.Go(func() { first(two, one) })
	all.Wait()
	want := map[string]string{"": "1,000", "de": "1.000", "fr": "1\u00a0000"}
	for tag, said := range want {
		for range 50 {
			all.Go(func() {
				assert.NoError(t, WithNumbersAsIn(tag, func() {
					for range 20 {
						assert.Equal(t, said, Grouped(1000), tag)
					}
				}))
			})
		}
		all.Go(func() { assert.Error(t, WithNumbersAsIn("zz", func() { t.Error("written as nowhere") })) })
	}
	all.Wait()
	assert.Panics(t, func() { _ = WithNumbersAsIn("de", func() { panic("broke") }) })
	require.NoError(t, WithNumbersAsIn("fr", func() { assert.Equal(t, want["fr"], Grouped(1000)) }), "what broke is out of the way")
}
