package words

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim/decide"
)

// Each stage has its words, and the month that it is about.
func TestStagesInWords(t *testing.T) {
	require.Len(t, stageWords, len(decide.Stages()))
	said := map[string]bool{}
	for _, s := range decide.Stages() {
		require.NotEmpty(t, stageWords[s], s)
		said[stageWords[s].String()] = true
	}
	assert.Len(t, said, len(decide.Stages()))
	assert.Equal(t, "judging on fresh seasons", Doing(decide.Doing{Stage: decide.Judging}))
	assert.Equal(t, "raising July", Doing(decide.Doing{Stage: decide.Raising, Month: time.July}))
	assert.Equal(t, "stock after May", Doing(decide.Doing{Stage: decide.Stocking, Month: time.May}))
	assert.Empty(t, Doing(decide.Doing{}))
}

// An interrupted run says how far it came, by the seasons that its proof has.
func TestStoppedInWords(t *testing.T) {
	require.Len(t, decide.Stops(), 2)
	a := decide.Answer{Stopped: decide.WhileProving, Seasons: 1000, Proof: decide.Proof{Seasons: 350}}
	assert.Equal(t, "after 350 fresh seasons", stopped(a))
	a.Stopped = decide.WhileLooking
	assert.Equal(t, "before all of what is short had been looked at", stopped(a))
}
