// Package ahead says in the middle of a season what lies ahead: from what lies where today, with what
// odds each coming month is met in each way of working, how much must lie in store by when, what the
// dryers would be loaded with today, and what a truckload of stalks bought once would do.
//
// Seasons are those of every other answer: season n has the weather and the luck of season n, and
// is lived through from today on (sim.Start). What the season has shown so far makes them like the one
// at hand (trials.Known): weather is drawn given the rain so far, the luck of output given what was
// cut, and seasons count by how likely the rest makes them. Every share is of that many seasons, or of
// as many as their weights are worth. On the first day, with the stock that the plan opens with and
// nothing known, the odds are those of any other answer, to the last digit.
//
// Nothing unsafe is tried: nobody fires between 22 and 6 h but with the word of those who tend the fire.
package ahead
