// Package answers asks the questions of the trade, each by one function, and returns whole
// answers. The commands, the local page and programs of your own all go through it, so that
// the same options give the same numbers everywhere.
//
// # How to ask
//
// A scenario becomes a [Case]: a plan with its region, knowledge, weather and seed, ready to
// live through seasons. A question takes a case, its options and a [Progress], which may be nil:
//
//	s, err := scenarios.Demo(scenarios.OneCooperative) // or scenarios.Read of a file of yours
//	c, err := s.Setup(1)                               // 1 is the seed of all chance
//	options := answers.DefaultOdds()
//	options.Seasons = 400
//	answer, err := answers.Odds(ctx, c, options, nil)
//	fmt.Println(answer.Plan.WorstMonth().Odds.Share)
//
// Setup builds the generator of the weather, which takes a moment: call it once and ask many
// questions. Scenario.With changes a plan as the command line's --with does, and two plans to be
// compared become a [Pair] (scenarios.Pair), which tells in what they differ. Each question has
// an example.
//
// # What can be asked
//
//   - [Odds]: with what odds does the plan as written meet each month?
//   - [Dryers]: how many dryers does the region need, and where?
//   - [Compare]: what does a second plan do that the first does not, and does it pay?
//   - [Promise]: which contract can the plan as written safely promise?
//   - [Spend]: with this budget, what do we buy first?
//   - [Ways]: which changes of working, at no price or nearly none, meet the contract more often?
//   - [Season]: what happened in one season, day by day, and why was a month missed?
//   - [Load]: how long does one load of a dryer take, and how much wood?
//   - [FitWeather] and [AssessWeather]: which generator of weather fits a station's record, and
//     how well does it do? With [Through] odds and dryers are run through its real years too.
//
// # Options
//
// Begin with the defaults of a question ([DefaultOdds] and so on) and change what you mean to
// change; an options struct left empty is refused, because no number stands in for a missing
// one. Each option is one field, and all that is known of it stands in its tags: the default,
// what is allowed, and its words. The command line, the page, [OptionsOf] and the check before
// a question read the same tags. Same case, options and build give the same bytes, whatever
// the number of workers.
//
// # How to get the same numbers
//
// Every answer carries what was [Asked]: the case, and the command line that prints the same
// numbers again, quoted for a POSIX shell.
//
// # Errors, and runs that are stopped
//
// A question that cannot be asked as it stands is a [Fault]. A cancelled context ends a run:
// with the context's error where nothing can be said yet, with an answer that says how far it
// came where something can.
package answers
