package trials

import (
	"context"
	"testing"

	"github.com/stretchr/testify/require"
)

// A table put together from rows of its sites is that of the plan, packed or not, in every season, where
// stalks spoil at the hub, those of the first day among them.
func TestAssembledWhereStalksSpoil(t *testing.T) {
	plan, set := []int{1, 0}, tinySetup(1)
	set.Region.Sites[0].Dryers, set.Region.Sites[1].Dryers = 1, 0
	set.Region.Hub.Humidity, set.Region.Hub.OpeningStock = 0.95, 20_000
	want, err := set.Table(context.Background(), 0, long, Only(plan), nil)
	require.NoError(t, err)
	require.NotEqual(t, want.OpeningKept(0), want.OpeningKept(1))
	study := inWindows(t, set, plan)
	require.NoError(t, study.Run(context.Background(), long, nil))
	for _, from := range []*Table{want, study.Tables[0]} {
		got, err := Assemble(set.Region, []*Table{from, from})
		require.NoError(t, err)
		sameTable(t, want, got, plan)
	}
}
