package words

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/report/internal/sample"
	"drystalk/sim/goal"
	"drystalk/sim/money"
	"drystalk/sim/trials"
	"drystalk/sim/ways"
)

// What is said of the best free rival of each thing that an answer offers, by hand.
func TestRivalInWords(t *testing.T) {
	w := sample.Ways()
	r := ways.Rival{
		Changes: w.Together[1].Changes, Dryers: 6, OfferedDryers: 8, Seasons: 150, Worst: "August", Odds: trials.NewOdds(141, 150), Without: trials.NewOdds(120, 150), Offered: trials.NewOdds(138, 150),
		Income: money.Pair{More: sample.Mean(-120)}, Hours: money.Pair{More: sample.Mean(-600)}, Cutters: "members", Members: 6, Reaches: true,
	}
	const how = "stalks spread at 6 kg per m² and twice the stock ahead"
	assert.Equal(t, "With "+how+", 6 dryers may do; compared with eight dryers each member works less and earns 20 coins less a year.", RivalSentence(r, SomeDryers, goal.Goal{}, "coins"))
	assert.Equal(t, "Stalks spread at 6 kg per m² and twice the stock ahead would meet August in 94 of 100 trial seasons, with nothing bought.", RivalSentence(r, Purchase, goal.Goal{}, "coins"))
	assert.Equal(t, RivalSentence(r, Purchase, goal.Goal{}, "coins"), RivalSentence(r, List, goal.Goal{}, "coins"))
	assert.Equal(t, "With "+how+" and nothing bought, every contract month of a season is met in 94 of 100 trial seasons.", RivalSentence(r, Purchase, goal.Goal{Kind: goal.AllMonths}, "coins"))
	assert.Equal(t, "With "+how+" and nothing bought, at least 90 % of a season's contract is delivered in 94 of 100 trial seasons.", RivalSentence(r, List, goal.Goal{Kind: goal.ShareDelivered, Share: 0.9}, "coins"))
	assert.Equal(t, "With "+how+", the promise would be met in 94 of 100 trial seasons instead of 80; compared with working as now each member works less and earns 20 coins less a year.", RivalSentence(r, Contract, goal.Goal{}, "coins"))
	none := r
	none.Dryers = 0
	assert.Equal(t, "Without a dryer but with "+how+", it may do; compared with eight dryers each member works less and earns 20 coins less a year.", RivalSentence(none, SomeDryers, goal.Goal{}, "coins"))
	none.Reaches = false
	assert.Equal(t, "Without a dryer but with "+how+", it would be enough in 94 of 100 trial seasons instead of 80, still less than was asked.", RivalSentence(none, SomeDryers, goal.Goal{}, "coins"))
	for of, want := range map[Offer]string{SomeDryers: "eight dryers", Purchase: "the purchase", List: "the list", Contract: "working as now"} {
		notes := RivalNotes(r, of, "coins")
		assert.Contains(t, notes[0].Says, "as worked now 80 % (73 to 86 %), what is offered 92 % (86 to 96 %). Compared with "+want+" each member works less and earns 20 coins less a year. drystalk ways looks further.")
	}
	same := r
	same.Dryers = 8
	assert.Contains(t, RivalSentence(same, SomeDryers, goal.Goal{}, "coins"), "8 dryers may do; compared with eight dryers as worked now each member")
	same.Offered = same.Without
	assert.Contains(t, RivalSentence(same, SomeDryers, goal.Goal{}, "coins"), "8 dryers may do; compared with working as now each member")
	r.Cutters = ""
	assert.Equal(t, "With "+how+", 6 dryers may do; compared with eight dryers each cutter works less.", RivalSentence(r, SomeDryers, goal.Goal{}, ""))
	notes := RivalNotes(r, SomeDryers, "")
	assert.Len(t, notes, 1)
	assert.Contains(t, notes[0].Says, "with 6 dryers: 94 % (89 to 97 %), as worked now 80 %")
}
