package table

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"drystalk/sim/decide"
	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// TestPayToMembersIsMarked lists what a plan costs where the cutters are of the group and where they
// are hired: a cost to one is an income to the other.
func TestPayToMembersIsMarked(t *testing.T) {
	e := decide.Earns{Dryers: 1, Cutters: money.Members.String(), Net: trials.Mean{Mean: 500, Low: 400, High: 600, Seasons: 100}}
	for _, part := range []money.Part{money.Cutting, money.Wages, money.Wood} {
		e.Parts = append(e.Parts, decide.Part{Of: part.String(), Year: trials.Mean{Mean: -100, Low: -110, High: -90}})
	}
	first := func() (names []string) {
		for _, row := range Parts(e, "coins").Words() {
			names = append(names, row[0])
		}
		return names
	}
	assert.Equal(t, []string{"pay for cutting (to members)", "wages for other work (to members)", "wood", "left over when members are paid"}, first())
	e.Cutters = money.Hired.String()
	assert.Equal(t, []string{"pay for cutting", "wages for other work", "wood", "left over"}, first())
}
