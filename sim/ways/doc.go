// Package ways looks for better ways of working: what a region may do with what it has, at no
// price or nearly none. It knows a table of levers (kilograms per m², what is fired first and
// when, stock ahead, collections and the like), each with a ladder of values around the present
// one, and looks for the few of them that meet the goal most often.
//
// The search goes by the odds themselves, the seasons that reach the goal, and by the stalks
// missing only among equals: a smooth stand-in steered such a search wrong. All ways live through
// the same seasons. One lever at a time on few search seasons, then step by step up from the best
// two, then the best five on other seasons, where what does not carry is taken back; what is
// stated comes from the fresh seasons of an answer, which chose nothing. What looked best on few
// seasons is half luck, so the gain of each stage is told beside the others.
//
// Nothing unsafe is tried: no cutting above the rain limit, no closed stand, no day of rest fewer,
// no night without the word of those who work it, no temperature above the dryer's.
package ways
