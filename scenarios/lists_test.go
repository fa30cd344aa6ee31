package scenarios

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"drystalk/sim"
)

// Spells in which people are away are read with their days, and all that is wrong with one is
// told; what one lacks hides no other.
func TestSpells(t *testing.T) {
	const away = "{from: 10 apr, to: 16 apr, fraction: 1, name: new year}"
	entries := func(n int) string {
		return "people: {away: [" + strings.Repeat("{from: 1 jul, to: 1 jul}, ", n-1) + "{from: 1 jul, to: 1 jul}]}"
	}
	wrong(t, "region: Here", map[string]string{
		"region: Here\n" + entries(100):                                                      "",
		"region: Here\n" + entries(101):                                                      "f:2: people.away: found a list, allowed: a list of at most 100, such as [" + away + "]",
		"region: Here\npeople: {away: 3}":                                                    "f:2: people.away: found 3, allowed: a list of at most 100, such as [" + away + "]",
		"region: Here\npeople: {away: {from: 1 jul}}":                                        "f:2: people.away: found a group of keys, allowed: a list of at most 100, such as [" + away + "]",
		"region: Here\npeople: {away: [3, [4]]}":                                             "f:2: people.away[1]: found 3, allowed: a group of keys, such as " + away + "\nf:2: people.away[2]: found a list, allowed: a group of keys, such as " + away,
		"region: Here\npeople: {away: [{to: 1 jul}]}":                                        `f:2: people.away[1].from: found nothing, allowed: a day of the season, such as "10 apr"`,
		"region: Here\npeople: {away: [{from: 1 jul}]}":                                      `f:2: people.away[1].to: found nothing, allowed: a day of the season, such as "10 apr"`,
		"region: Here\npeople: {away: [{fraction: 1}]}":                                      `f:2: people.away[1].from: found nothing, allowed: a day of the season, such as "10 apr"` + "\n" + `f:2: people.away[1].to: found nothing, allowed: a day of the season, such as "10 apr"`,
		"region: Here\npeople: {away: [{from: 2 jul, to: 1 jul}, {from: 3 jul, to: 2 jul}]}": `f:2: people.away[1].to: found "1 jul", allowed: a day of the season not before from` + "\n" + `f:2: people.away[2].to: found "2 jul", allowed: a day of the season not before from`,
		"region: Here\npeople: {away: [{from: 31 may, to: 1 aug}]}":                          `f:2: people.away[1].from: found "31 may", allowed: a day between season.start and the last day of the season` + "\n" + `f:2: people.away[1].to: found "1 aug", allowed: a day between season.start and the last day of the season`,
		"region: Here\npeople: {away: [{from: 31 jun, to: 1 jul}]}":                          `f:2: people.away[1].from: found "31 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February`,

		"region: Here\npeople: {away: [{from: 1 jul, to: 1 jul, fraction: 1.1}, {from: 1 jul, to: 1 jul, fraction: -0.1}]}": "f:2: people.away[1].fraction: found 1.1, allowed: a number from 0 to 1\nf:2: people.away[2].fraction: found -0.1, allowed: a number from 0 to 1",
		"region: Here\npeople: {away: [{from: 1 jul, to: 1 jul, nme: x}]}":                                                  "f:2: people.away[1].nme: found an unknown key, did you mean name?",
		`region: Here` + "\n" + `people: {away: [{from: 1 jul, to: 1 jul, name: ""}]}`:                                      `f:2: people.away[1].name: found "", allowed: a name of 1 to 80 letters on one line`,
	})
	s := read(t, tiny+"people: {away: [{from: 1 jun, to: 31 jul, fraction: 0, name: fair}, {from: 1 jul, to: 1 jul, fraction: 0.25}, {from: 2 jul, to: 3 jul}]}\n")
	assert.Equal(t, []sim.Away{{Name: "fair", FirstDay: 0, LastDay: 60}, {FirstDay: 30, LastDay: 30, Fraction: 0.25}, {FirstDay: 31, LastDay: 32, Fraction: 1}}, s.Region.People.Away)
	s = read(t, changed(t, "dryers: 2", "closed: [{from: 1 jul, to: 1 jul, why: fair, removed_fraction: 1}, {from: 2 jul, to: 3 jul, why: spray}]"))
	assert.Equal(t, []sim.Closure{{Why: "fair", FirstDay: 30, LastDay: 30, Removed: 1}, {Why: "spray", FirstDay: 31, LastDay: 32}}, s.Region.Sites[0].Closed)
	wrong(t, "dryers: 2", map[string]string{
		"closed: [{from: 1 jul, to: 1 jul}]":                              "f:6: sites.Stone Weir.closed[1].why: found nothing, allowed: a name",
		"closed: [{from: 1 jul, to: 1 jul, why: x, removed_fraction: 2}]": "f:6: sites.Stone Weir.closed[1].removed_fraction: found 2, allowed: a number from 0 to 1",
		"closed: [{from: 1 jul, to: 1 jul, why: x, name: y}]":             "f:6: sites.Stone Weir.closed[1].name: found an unknown key, allowed: from, to, why, removed_fraction",
		"closed: 3": "f:6: sites.Stone Weir.closed: found 3, allowed: a list of at most 100, such as [{from: 1 jul, to: 31 oct, why: sprayed}]",
	})
}

// What hangs on a season that is wrong is no second fault.
func TestSpellsOfAWrongSeason(t *testing.T) {
	for season, want := range map[string]string{
		"start: 31 jun, days: 61": `f:2: season.start: found "31 jun", allowed: a day and a month, such as "1 mar", in a year without 29 February`,
		"start: 1 jun, days: 0":   "f:2: season.days: found 0, allowed: a whole number from 1 to 365",
	} {
		assert.Equal(t, want, said(t, changed(t, "start: 1 jun, days: 61", season)+"people: {away: [{from: 1 jul, to: 31 dec}]}\nmoves: [{from: Stone Weir, to: Ferry Bank, on: 1 jul, days_lost: 3}]\n"))
	}
}

// Moves take as many dryers from a site as it has, to another site of the scenario.
func TestMoves(t *testing.T) {
	const move = "{from: Stone Weir, to: Ferry Bank, on: 1 jul, days_lost: 3, cost: 120.5}"
	moves := func(list ...string) string { return tiny + "moves: [" + strings.Join(list, ", ") + "]\n" }
	with := func(from, to string) string {
		require.Contains(t, move, from)
		return moves(strings.Replace(move, from, to, 1))
	}
	for text, want := range map[string]string{
		moves(move): "", moves(move, move): "", moves(): "",
		moves(move, move, move):                  `f:8: moves[3].from: found "Stone Weir", allowed: a site with a dryer left to move (state dryers there)`,
		with("from: Stone Weir, ", ""):           "f:8: moves[1].from: found nothing, allowed: a name",
		with("to: Ferry Bank, ", ""):             "f:8: moves[1].to: found nothing, allowed: a name",
		with("on: 1 jul, ", ""):                  `f:8: moves[1].on: found nothing, allowed: a day of the season, such as "10 apr"`,
		with("days_lost: 3, ", ""):               "f:8: moves[1].days_lost: found nothing, allowed: days until the dryer works at its new site",
		with(", cost: 120.5", ""):                "",
		with("from: Stone Weir", "from: Here"):   `f:8: moves[1].from: found "Here", allowed: the name of a site`,
		with("to: Ferry Bank", "to: Here"):       `f:8: moves[1].to: found "Here", allowed: the name of a site`,
		with("to: Ferry Bank", "to: Stone Weir"): `f:8: moves[1].to: found "Stone Weir", allowed: another site than from`,
		with("from: Stone Weir, to: Ferry Bank", "from: Ferry Bank, to: Stone Weir"): `f:8: moves[1].from: found "Ferry Bank", allowed: a site with a dryer left to move (state dryers there)`,
		with("1 jul", "1 aug"):               `f:8: moves[1].on: found "1 aug", allowed: a day between season.start and the last day of the season`,
		with("days_lost: 3", "days_lost: 0"): "", with("days_lost: 3", "days_lost: 365"): "",
		with("days_lost: 3", "days_lost: 366"): "f:8: moves[1].days_lost: found 366, allowed: a whole number from 0 to 365",
		with("days_lost: 3", "days_lost: 0.5"): "f:8: moves[1].days_lost: found 0.5, allowed: a whole number from 0 to 365",
		with("cost: 120.5", "cost: 0"):         "", with("cost: 120.5", "cost: 1e9"): "",
		with("cost: 120.5", "cost: 1000000000.5"): "f:8: moves[1].cost: found 1000000000.5, allowed: a number from 0 to 1000000000",
		with("cost: 120.5", "cost: -1"):           "f:8: moves[1].cost: found -1, allowed: a number from 0 to 1000000000",
		with("cost: 120.5", "cst: 1"):             "f:8: moves[1].cst: found an unknown key, did you mean cost?",
	} {
		assert.Equal(t, want, said(t, text), text)
	}
	s := read(t, moves(move, "{from: Stone Weir, to: Ferry Bank, on: 31 jul, days_lost: 0}"))
	assert.Equal(t, []sim.Move{{From: "Stone Weir", To: "Ferry Bank", Day: 30, DaysLost: 3, Cost: 12_050}, {From: "Stone Weir", To: "Ferry Bank", Day: 60}}, s.Region.Moves)
}
