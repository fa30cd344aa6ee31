package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/report/internal/sample"
	"drystalk/sim/spend"
	"drystalk/sim/trials"
)

// A step of which neither gain can be told from chance is marked, counted and named, with the seasons that
// was looked at in; one that spares missing stalks, or is better in odds alone, is not.
func TestStepsThatMayDoNothing(t *testing.T) {
	step := func(gain, fewer trials.Mean) spend.Bought {
		return spend.Bought{Site: "Reed Bay", What: []spend.Quantity{{Of: spend.OpenRacks, Size: 50, Unit: "m²"}}, Gain: gain, Fewer: fewer}
	}
	none, open := trials.Mean{}, trials.Mean{Mean: 10, Low: -16, High: 35}
	better, spares, nothing, harms := step(sample.Mean(0.02), open), step(none, sample.Mean(200)), step(none, none), step(trials.Mean{Mean: -0.01, Low: -0.03, High: 0.01}, open)
	assert.Equal(t, []bool{false, false, true, true}, []bool{MayDoNothing(better), MayDoNothing(spares), MayDoNothing(nothing), MayDoNothing(harms)})
	assert.Equal(t, []string{"50 m² of open rack", "50 m² of open rack (may do nothing)", "50 m² of open rack at Reed Bay (may do nothing)"}, []string{StepName(better), StepName(nothing), StepNameAt(nothing)})
	all := func(of spend.Lever) spend.InAll { return spend.InAll{Of: of, PerSite: []float64{1}} }
	roofs := spend.Bought{What: []spend.Quantity{{Of: spend.ClearRoofs}}, Fewer: sample.Mean(300)}
	list := spend.Answer{Steps: []spend.Bought{nothing, roofs}, All: []spend.InAll{all(spend.OpenRacks), all(spend.ClearRoofs)}}
	assert.Equal(t, []string{"1 m² of clear roof", "1 m² of open rack"}, withoutSites(list), "what does something is named first")
	list.Steps = append(list.Steps, better)
	assert.Equal(t, []string{"1 m² of open rack", "1 m² of clear roof"}, withoutSites(list))
	for _, tt := range []struct {
		steps       []spend.Bought
		short, says string
	}{
		{nil, "", ""},
		{[]spend.Bought{better, spares}, "", ""},
		{[]spend.Bought{nothing}, "What is bought brings no more than chance may.", "In these 100 seasons the gain of no step alone can be told from chance; the first line and the last show what all of them do."},
		{[]spend.Bought{nothing, harms}, "None of the two steps alone brings more than chance may.", "In these 100 seasons the gain of no step alone can be told from chance; the first line and the last show what all of them do."},
		{[]spend.Bought{nothing, better}, "One of two steps brings no more than chance may: buy it last or not at all.", "In these 100 seasons the gain of 50 m² of open rack at Reed Bay (step 1) cannot be told from chance: buy it last or not at all."},
		{[]spend.Bought{better, nothing, harms}, "Two of three steps bring no more than chance may: buy them last or not at all.", "In these 100 seasons the gains of 50 m² of open rack at Reed Bay (step 2) and 50 m² of open rack at Reed Bay (step 3) cannot be told from chance: buy them last or not at all."},
	} {
		s := spend.Answer{Seasons: 300, LineSeasons: 100, Steps: tt.steps, Reached: -1}
		assert.Equal(t, tt.short, weakInShort(s))
		assert.Equal(t, note("What may do nothing", tt.says), weakNotes(s))
		if tt.short != "" {
			assert.Contains(t, SpendParagraph(s, 0.9, "T$"), tt.short)
			assert.Contains(t, SpendNotes(s, 0.9, "T$"), Note{"What may do nothing", tt.says})
			assert.Contains(t, SpendBrief("Lake", s, 0.9, "T$").Changes, tt.says)
		}
	}
}
