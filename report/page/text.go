package page

import "drystalk/tongue"

// Text holds all words of the page in one place, so that it can be translated. The words of
// answers, tables and charts are those of the report; those of fields are sentences of fieldtext.go.
type Text struct {
	Title, Lead, Demos, DemoRegion, DemoGroup, Open, UploadLead, Upload, Saved, Local                     tongue.Text
	Today, TodayLead, Change, Run, Stop, Reset, TakeBack, Undo, Save                                      tongue.Text
	Bar, TypedOne, TypedMany, DiffersOne, DiffersMany, NoneDiffers                                        tongue.Text
	Tasks, TaskDryers, TaskDryersLead, RunDryers, TaskSecond, TaskSecondLead, RunSecond, At, Costs        tongue.Text
	CostsWhere, TaskPromise, TaskPromiseLead, RunPromise, MoreQuestions, TaskSpend, TaskSpendLead         tongue.Text
	RunSpend, TaskWays, TaskWaysLead, RunWays, TaskSeason, TaskSeasonLead, RunSeason, SeasonMonths        tongue.Text
	Running, Left, LeftOfStep, Seconds, Minutes, Wait, Stopped, Early, Busy, Nothing, Outdated, AskedWith tongue.Text
	Downloads, Brief, Report, Spreadsheet, Figures, Scenario, JSON                                        tongue.Text
	Faults, Default, NoScript, SideBySide, Month, AskedToday, AskedPlan, MetToday                         tongue.Text
	MetPlan, StalksMore, Charts, Cautions, Back, Broken, BrokenLead                                       tongue.Text
	NotFound, Refused, TooLarge, ShowAll, Skip, Answer, Same                                              tongue.Text
	To, Number, Numbers, MoreNumbers, Tables, Again, Verdict, Sources, SitesMain, SitesRest               tongue.Text
	Trials, Ambiguous                                                                                     tongue.Text
	Older, OlderLead, OlderTable, SavedThere, TypedHere, TakeSaved, KeepTyped                             tongue.Text
	Keep, KeptAs, KeepName, KeepIt, NoFolder, KeptPlans, NoneKept, NotThere                               tongue.Text
	Bought, WaysFile, Climate, ClimateOf, TodayFile, SeasonsTable, SeasonsColumns, TooManyRows            tongue.Text
	NamesFiles                                                                                            tongue.Text
	Weather                                                                                               weatherText
	Second                                                                                                besideText
	Options, OptionWhy                                                                                    map[string]tongue.Text
	Places                                                                                                map[string]tongue.Text
	PlaceWhy                                                                                              map[string]tongue.Text
	Sentences                                                                                             map[string]tongue.Text // by section and key; {} is the number, {money} the currency
	Choices                                                                                               map[string]tongue.Text // of a choice
	UnitsByEnd                                                                                            []unitByEnd            // of numbers without one, by a part of the key
}

// Lang is the tag of the language in use, as the page states it.
func (t *Text) Lang() string { return tongue.Tag() }

// Differs says how many numbers are not today's.
func (t *Text) Differs(n int) string {
	switch n {
	case 0:
		return t.Same.String()
	case 1:
		return t.DiffersOne.String()
	}
	return tongue.Sayf(string(t.DiffersMany), n)
}

// duration says some seconds.
func (t *Text) duration(seconds int) string {
	if seconds < 100 {
		return tongue.Sayf(string(t.Seconds), seconds)
	}
	return tongue.Sayf(string(t.Minutes), (seconds+30)/60)
}

// ambiguous says that a number can be read in two ways.
func (t *Text) ambiguous(text string) string { return tongue.Sayf(string(t.Ambiguous), text) }

// English is the text of the page.
var English = Text{
	Title: "drystalk", Lead: "Can the region keep its buyer supplied with dry stalks through the rains, and what does it take? Start from a demo, or open a plan you have saved.",
	Demos: "Start from a demo (all numbers invented)", DemoRegion: "Lake Tavari: six groups", DemoGroup: "One cooperative with one dryer",
	Open: "Open", UploadLead: "Open a scenario file", Upload: "Open the file", Saved: "A scenario file, such as the one this page lets you download (.yaml, at most 1 MB)",
	Local: "Everything stays on this computer: the page is served by the program itself and needs no internet.",
	Today: "today", TodayLead: "Today is the scenario as it was opened. Ask one of the questions, or change numbers further down and compare.",
	Change: "All numbers, by place of work", Again: "How to get the same numbers",
	Run: "Compare with today", Stop: "Stop", Reset: "All numbers back to today", TakeBack: "Take back the last change", Undo: "Undo", Save: "Keep these numbers without a run",
	Bar: "What differs from today, and the run", TypedOne: "1 number typed, not run yet", TypedMany: "{} numbers typed, not run yet",
	DiffersOne: "1 number differs from today", DiffersMany: "%d numbers differ from today", Same: "Nothing differs from today", NoneDiffers: "What you change stands here, with a button that undoes it.",
	Tasks:      "What do you want to know?",
	TaskDryers: "More dryers", TaskDryersLead: "How many dryers keep the contract, and at which sites?", RunDryers: "How many dryers?",
	TaskSecond: "A second dryer", TaskSecondLead: "What does one dryer more than today bring, and does it pay?", RunSecond: "One dryer more", At: "At",
	Costs: "A dryer costs", CostsWhere: "change that under Money.",
	TaskPromise: "What can we promise?", TaskPromiseLead: "How many stalks a month can the buyer be promised with the numbers below?", RunPromise: "What to promise",
	MoreQuestions: "More questions: a budget, ways of working, one season",
	TaskSpend:     "What does a budget buy?", TaskSpendLead: "What to buy first, second and third. This takes minutes.", RunSpend: "What to buy",
	TaskWays: "Better ways of working", TaskWaysLead: "What can be changed at no price or nearly none? This takes minutes.", RunWays: "Better ways",
	TaskSeason: "One season", TaskSeasonLead: "How does one trial season go, month by month, and why are months missed?", RunSeason: "Show the season", SeasonMonths: "The season, month by month",
	Running: "Running", Left: ", about %s left", LeftOfStep: ", about %s left of this step", Seconds: "%d s", Minutes: "%d minutes",
	Wait: "The answer comes here. You can go on changing numbers; nothing you type is lost.", Stopped: "Stopped", Early: "It was stopped; what follows was known by then.",
	Busy: "Other runs are under way; this one waits for its turn", Nothing: "Nothing has been run yet.", Outdated: "Numbers were changed since: this answer is of the plan before. Run it again.",
	AskedWith: "What this answer's plan has that differs from today",
	Downloads: "Take it with you", Brief: "The answer on two pages (prints on A4)", Report: "Report (the annex: every table and assumption)", Spreadsheet: "Spreadsheet", Figures: "Figures as CSV", Scenario: "The plan as a scenario file", JSON: "All numbers as JSON",
	Faults: "Nothing was run or changed", Default: "if not stated",
	NoScript: "Without scripts, reload the page to see how far a run has come.", SideBySide: "Today and the plan, each against its own contract", Verdict: "The purchase", Month: "Month",
	AskedToday: "Asked today", MetToday: "Met today", AskedPlan: "Asked with the plan", MetPlan: "Met with the plan", StalksMore: "Good stalks more",
	Charts: "Charts", Cautions: "Cautions", Back: "Back to the start",
	Broken: "Something broke inside the program", BrokenLead: "The fault is the program's, not yours. Nothing of your plan is lost; go back and try again.",
	NotFound: "There is no such page or plan here. Plans are kept only while the program runs, and the oldest make room for new ones.", Refused: "This request was refused.",
	TooLarge: "The file is larger than a scenario can be (1 MB).", ShowAll: "More about the trials", Skip: "Skip to the answer", Answer: "The answer",
	To: "to", Number: "Number", Numbers: "numbers", MoreNumbers: "more numbers", Tables: "tables", Sources: "Show what is allowed and where defaults come from",
	SitesMain: "What each site has, and how it works", SitesRest: "More of each site", Trials: "Trial seasons",
	Ambiguous: "found %q, which can be read with a decimal comma or as thousands, allowed: a number without thousands apart, such as 1500 or 1.5",
	Older:     "This plan was changed in another window", OlderLead: "Nothing was run, and nothing that was saved there is lost. What you typed stands in the fields below. Take what is saved there, or put what you typed in its place.",
	OlderTable: "Where the two differ", SavedThere: "Saved there", TypedHere: "Typed here", TakeSaved: "Take what is saved", KeepTyped: "Put what I typed in its place",
	Keep: "Keep this plan by name", KeptAs: "It is in the folder of plans as", KeepName: "Name of the plan", KeepIt: "Keep the plan",
	NoFolder:  "Plans end with the program: download the plan to keep it, or start the page with --plans FOLDER to keep plans by name.",
	KeptPlans: "Plans kept by name", NoneKept: "None yet: open a demo or a file, and keep it by a name.", NotThere: "There is no such plan in the folder.",
	Bought: "The plan with all of this bought (scenario file)", WaysFile: "The ways of working (for --ways)", Climate: "The weather of the record (climate file)", ClimateOf: "The weather's climate file, to lie beside the plan:",
	TodayFile: "Today in this weather, as a scenario file (the lines below name it)", SeasonsTable: "Every season behind the answer (CSV)", SeasonsColumns: "What the columns of the seasons hold (CSV)",
	TooManyRows: "The table of seasons has %s rows, more than the page hands out; the command below writes it with --table seasons.csv.",
	NamesFiles:  "Files that it names, such as drystalk-climate.yaml, where it names any",
	Weather:     englishWeather,
	Second:      englishBeside,
	Options: map[string]tongue.Text{
		"seasons": "Trial seasons behind each figure", "seed": "Seed of all chance", "search": "Seasons that choose where dryers stand", "limit": "Seasons up to which a number of dryers is sought to be proven",
		"short": "Seasons looked into for what was short", "futures": "Sequences of years behind a payback", "budget": "What may be spent", "number": "Season",
	},
	OptionWhy: map[string]tongue.Text{
		"seasons": "more seasons narrow the intervals and take longer", "seed": "the same seed gives the same numbers",
		"search": "apart from those behind the figures", "limit": "0 for twice the seasons, four times where one number alone is undecided", "short": "of those with a missed month", "futures": "with prices only",
		"budget": "in the money of the plan", "number": "of an answer with the same seed",
	},
	Places: map[string]tongue.Text{
		"site": "Site", "sites": "Sites", "water": "Water: the standing plant", "yard": "Yard: racks and rules of cutting", "dryers": "Dryers: cabinet, shift and wood", "people": "People: hours and tasks",
		"store": "Store, hub and road", "troubles": "Troubles: what breaks", "buyer": "Buyer: the contract", "money": "Money: prices and loan", "weather": "Weather",
	},
	PlaceWhy: map[string]tongue.Text{
		"site":  "what the group has and how it works",
		"water": "matters only where a site states the mat within its reach",
	},
	Sentences: sentences, Choices: choices, UnitsByEnd: unitsByEnd,
}
