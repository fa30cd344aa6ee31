package main

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// tinyAsked are questions of the tiny plan whose files several tests look at, by name.
var tinyAsked = map[string][]string{
	"odds":         {"odds", "plan.yaml", "--seasons", "31"},
	"dryers":       {"dryers", "plan.yaml", "--seasons", "31", "--search", "30"},
	"compare":      {"compare", "plan.yaml", "--with", "Stone Weir's: dryers=2", "--seasons", "31", "--futures", "31"},
	"promise":      {"promise", "plan.yaml", "--seasons", "31", "--search", "30"},
	"less asked":   {"promise", "plan.yaml", "--with", "contract: stalks_per_month.jun=2000", "--seasons", "100", "--search", "30"},
	"spend":        {"spend", "plan.yaml", "--seasons", "31", "--search", "30", "--budget", "2500"},
	"ways":         {"ways", "plan.yaml", "--seasons", "31", "--search", "30", "--judge", "30"},
	"ahead":        {"ahead", "plan.yaml", "--seasons", "31", "--stock", ofOneGroup(".yaml"), "--cut", ofOneGroup("-cut.csv"), "--truckload", "500", "--truck-price", "0.1"},
	"several sums": {"spend", "plan.yaml", "--seasons", "31", "--search", "30", "--budget", "1,2500"},
}

// onceWritten are the files of questions that have been asked, by the name of the question.
var onceWritten = map[string]map[string]string{}

// writtenOf returns the files that a question of tinyAsked writes, by name. It is asked once for all
// tests, in a folder with the tiny scenario as plan.yaml: the bytes do not depend on the folder.
func writtenOf(t *testing.T, name string) map[string]string {
	t.Helper()
	args, ok := tinyAsked[name]
	require.True(t, ok, name)
	if onceWritten[name] == nil {
		onceWritten[name] = filesOf(t, args...)
	}
	return onceWritten[name]
}
