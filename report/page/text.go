package page

// Text holds all words of the page in one place, so that it can be translated. The words of
// answers, tables and charts are those of the report.
type Text struct {
	Lang, Title, Lead, Demos, DemoRegion, DemoGroup, Open, UploadLead, Upload, Saved, Local               string
	Today, Plan, TodayLead, Change, Run, RunDryers, Stop, Reset                                           string
	Running, Done, Stopped, Busy, Nothing, Downloads, Brief, Report, Spreadsheet, Figures, Scenario, JSON string
	Faults, FaultsLead, Allowed, Unit, Default, NoScript, SideBySide, Month, Asked, MetToday              string
	MetPlan, StalksMore, Charts, Cautions, Back, Broken, BrokenLead                                       string
	NotFound, Refused, TooLarge, ShowAll, Skip, Answer, Changed, Same, Kind                               string
	SameWeather, To, Numbers, Tables, Again, Verdict                                                      string
	Options, OptionWhy                                                                                    map[string]string
	Places                                                                                                map[string]string
	PlaceWhy                                                                                              map[string]string
}

// English is the text of the page.
var English = Text{
	Lang: "en", Title: "drystalk", Lead: "Can the region keep its buyer supplied with dry stalks through the rains, and what does it take? Start from a demo, or open a plan you have saved.",
	Demos: "Start from a demo (all numbers invented)", DemoRegion: "Lake Tavari: six groups", DemoGroup: "One cooperative with one dryer",
	Open: "Open", UploadLead: "Open a scenario file", Upload: "Open the file", Saved: "A scenario file, such as the one this page lets you download (.yaml, at most 1 MB)",
	Local: "Everything stays on this computer: the page is served by the program itself and needs no internet.",
	Today: "Today", Plan: "The plan", TodayLead: "Today is the scenario as it was opened. Change numbers below to make the plan; then run both through the same seasons.",
	Change: "The plan, by place of work", Again: "How to get the same numbers",
	Run: "Compare today with the plan", RunDryers: "How many dryers does the plan need?", Stop: "Stop", Reset: "Back to today's numbers",
	Running: "Running", Done: "Done", Stopped: "Stopped", Busy: "Other runs are under way; this one waits for its turn.", Nothing: "Nothing has been run yet.",
	Downloads: "Take it with you", Brief: "The answer on two pages (prints on A4)", Report: "Report (the annex: every table and assumption)", Spreadsheet: "Spreadsheet", Figures: "Figures as CSV", Scenario: "The plan as a scenario file", JSON: "All numbers as JSON",
	Faults: "Some numbers cannot be used", FaultsLead: "Nothing was run. Please change these:", Allowed: "allowed", Unit: "unit", Default: "if not stated",
	NoScript: "Without scripts, reload the page to see how far a run has come.", SideBySide: "Side by side", Verdict: "Does the purchase pay?", Month: "Month", Asked: "Asked",
	MetToday: "Today met in", MetPlan: "The plan met in", StalksMore: "Good stalks more",
	Charts: "Charts", Cautions: "Cautions", Back: "Back to the start",
	Broken: "Something broke inside the program", BrokenLead: "The fault is the program's, not yours. Nothing of your plan is lost; go back and try again.",
	NotFound: "There is no such page or plan here. Plans are kept only while the program runs, and the oldest make room for new ones.", Refused: "This request was refused.",
	TooLarge: "The file is larger than a scenario can be (1 MB).", ShowAll: "More numbers", Skip: "Skip to the answer", Answer: "The answer", Changed: "changed", Same: "The plan is the same as today.",
	Kind: "Question", To: "to", Numbers: "numbers", Tables: "tables",
	SameWeather: "Today and the plan live through the same weather; to change it, change the scenario file and open it again.",
	Options: map[string]string{
		"seasons": "Seasons", "seed": "Seed", "search": "Seasons that choose where dryers stand", "limit": "Seasons up to which a number of dryers is sought to be proven",
		"short": "Seasons looked into for what was short", "futures": "Sequences of years behind a payback",
	},
	OptionWhy: map[string]string{
		"seasons": "more seasons narrow the intervals and take longer", "seed": "the same seed gives the same numbers",
		"search": "apart from those behind the figures", "limit": "0 for twice the seasons, four times where one number alone is undecided", "short": "of those with a missed month", "futures": "with prices only",
	},
	Places: map[string]string{
		"site": "Site", "water": "Water: the standing plant", "yard": "Yard: racks and rules of cutting", "dryers": "Dryers: cabinet, shift and wood", "people": "People: hours and tasks",
		"store": "Store, hub and road", "troubles": "Troubles: what breaks", "buyer": "Buyer: the contract", "money": "Money: prices and loan", "weather": "Weather",
	},
	PlaceWhy: map[string]string{
		"site":  "what the group has and how it works",
		"water": "matters only where a site states the mat within its reach",
	},
}
