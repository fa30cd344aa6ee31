package words

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/measured"
)

// Prices of a good stalk say of which load they are and how wet it comes; nothing is said of brittle
// stalks where there are none, and a part of a load is told.
func TestLoadParagraphSaysOfWhat(t *testing.T) {
	l := Load{Stalks: 500, EndMoistureWet: 0.12, OverdriedPart: 0.004, FreshPerGood: 0.0124, PredriedPerGood: 0.0047, FreshWet: 0.91, PredriedWet: 0.41, Currency: "coins", Part: true}
	text := strings.Join(LoadParagraph(l), " ")
	assert.Contains(t, text, "The stalks come out at 12 % moisture. Time three loads of your own")
	assert.Contains(t, text, "reads such a log. In a full load a good stalk costs", "what is in the table too comes after it")
	assert.Contains(t, text, "fresh (91 %)")
	assert.Contains(t, text, "pre-dried (41 %)")
	assert.Contains(t, text, "This load is not full")
	assert.Contains(t, text, "costs 0.0124 coins fresh (91 %) and 0.0047 coins pre-dried (41 %), rack to store: 2.6 times as much.")
	l.FreshInRains, l.PredriedInRains = 0.0124, 0.0047
	assert.Equal(t, text, strings.Join(LoadParagraph(l), " "), "wood costs the same all year")
	l.FreshInRains, l.PredriedInRains = 0.0145, 0.0049
	assert.Contains(t, LoadParagraph(l), "In a full load, rack to store, a good stalk costs 0.0124 coins fresh (91 %) and 0.0047 pre-dried (41 %); at the rains' wood price 0.0145 and 0.0049.")
	l.OverdriedPart, l.Part = 0.03, false
	text = strings.Join(LoadParagraph(l), " ")
	assert.Contains(t, text, "3 % of them are below 8 % and brittle")
	assert.NotContains(t, text, "not full")
}

// A time left out names both lines; normals that stood in are told with what was allowed for them; a
// log that carries nothing says what stands.
func TestWordsOfLogs(t *testing.T) {
	odd := []measured.NotUsed{{Line: 5, Before: 4}}
	assert.Equal(t, []string{"The time from line 4 to 5 was left out, because the others contradict: look for a slip in line 4 or 5, mend it and fit again."}, OddTimes(odd))
	assert.Contains(t, OddTimes(append(odd, measured.NotUsed{Line: 6, Before: 5}))[0], "The times from line 4 to 5 and 5 to 6 were left out")
	assert.Nil(t, OddTimes(nil))
	assert.Empty(t, StoodInSentence(measured.StoodIn{Days: 12}))
	assert.Contains(t, StoodInSentence(measured.StoodIn{Days: 12, Sunshine: 12, Humidity: 3, SD: 0.144}), "sunshine and humidity on 3 of 12 days, which the weather record lacks: the interval is widened by an assumed 14 %")
	none := []measured.Estimate{{Name: "output of a cutter"}}
	assert.Contains(t, MeasuredInShort(none, "x.yaml")[0], "A scenario keeps the documented range of the output of a cutter")
	assert.Contains(t, MeasuredSentence("19 days", none), "which stands")
}
