package words

import (
	"fmt"
	"strings"

	"drystalk/sim/spend"
)

// lastBought returns the state after the last step, or before the first where nothing helps.
func lastBought(s spend.Answer) spend.Bought {
	if len(s.Steps) == 0 {
		return s.Start
	}
	return s.Steps[len(s.Steps)-1]
}

// SpendSentence says what a budget buys and what that does; what loses money says so first.
func SpendSentence(s spend.Answer, currency string) string {
	last := lastBought(s)
	first := ""
	if s.After.High < 0 {
		first = "This plan loses money. "
	}
	if len(s.Steps) == 0 {
		return first + fmt.Sprintf("Nothing that %s buys helps: %s in %s of %s seasons as it is.", Amount(s.Budget, currency), Happens(s.Goal, last.Worst.Name), Odds(last.Odds), Grouped(s.Seasons))
	}
	return first + fmt.Sprintf("Of %s spend %s: %s; then %s in %s of %s seasons, against %s before.",
		Amount(s.Budget, currency), Amount(last.Spent, currency), boughtWords(s), Happens(s.Goal, last.Worst.Name), Odds(last.Odds), Grouped(s.Seasons), Odds(s.Start.Odds))
}

// SpendParagraph says whether the list reaches the target, what it earns, why it ends, and how it
// was found.
func SpendParagraph(s spend.Answer, target float64, currency string) []string {
	var out []string
	if s.Stopped {
		out = append(out, "The search was stopped: this is the list so far.")
	}
	out = append(out, fmt.Sprintf("That %s the target of %s.", reaches(lastBought(s).Odds, target), OfTen(target)))
	if s.Reached > 0 && s.Reached < len(s.Steps) {
		b := s.Steps[s.Reached-1]
		out = append(out, fmt.Sprintf("It is reached after %d of %d steps, for %s.", s.Reached, len(s.Steps), Amount(b.Spent, currency)))
	}
	out = append(out, HubSentence(s.Hub), fmt.Sprintf("The region then earns %s a year, %s, against %s.", Amounts(s.After, currency), Included("what is bought", s.GrantShare), Amounts(s.Before, currency)),
		"The list ends because "+endingWords[s.Ends]+".")
	if len(s.Marginal) > 0 && s.Marginal[0].Fewer > 0 {
		m := s.Marginal[0]
		out = append(out, fmt.Sprintf("With more money, next would come %s%s for %s: %s fewer stalks missing a season (search seasons).", OfLever(m.What), atSite(m.Site), Amount(m.Cost, currency), Whole(m.Fewer)))
	}
	return append(out, fmt.Sprintf("%s site-plans were run through %s search seasons to choose; the figures are of %s fresh seasons. Not tried: %s.",
		Grouped(s.Tried), Grouped(s.SearchSeasons), Grouped(s.Seasons), strings.Join(notTried(s), "; ")))
}

func atSite(site string) string {
	if site == "" {
		return ""
	}
	return " at " + site
}

// OfLevers writes what one step buys as a list.
func OfLevers(list []spend.Quantity) string {
	var parts []string
	for _, a := range list {
		parts = append(parts, OfLever(a))
	}
	return And(parts)
}

// boughtWords sums up a list, thing by thing.
func boughtWords(s spend.Answer) string {
	var parts []string
	for _, all := range s.All {
		sum := 0.0
		var at []string
		for i, x := range all.PerSite {
			sum += x
			if x > 0 && i < len(s.Sites) {
				at = append(at, s.Sites[i])
			}
		}
		words := OfLever(spend.Quantity{Of: all.Of, Size: sum, Unit: all.Unit})
		switch all.Of {
		case spend.Dryers:
			per := make([]int, len(s.Sites))
			for i := range per {
				per[i] = Round(all.PerSite[i])
			}
			words += " (" + Where(s.Sites, per) + ")"
		case spend.LongerShifts: // hours of several sites do not add up
			words = leverWords[all.Of].name + " (" + And(at) + ")"
		default:
			if len(at) > 0 {
				words += " (" + And(at) + ")"
			}
		}
		parts = append(parts, words)
	}
	return And(parts)
}
