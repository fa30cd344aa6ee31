package words

import (
	"slices"

	"drystalk/sim/weather"
	"drystalk/tongue"
)

// mostReasons is how many reasons of a verdict a paragraph names.
const mostReasons = 2

// FittedSentences say first, in one sentence, how good the weather is that was fitted to a record,
// and then why it is not better, and which contract months, 1 to 12, the fit was not judged in.
func FittedSentences(station string, j weather.Judgement, contract []int) []string {
	if j.Verdict == "" {
		return []string{tongue.Sayf("The weather was fitted to %s, and its climate file does not say how well: fit it again with this version to know.", station)}
	}
	out := []string{tongue.Sayf("The weather was fitted to %d complete years of %s and is %s.", j.CompleteYears, station, weather.SayVerdict(j.Verdict))}
	if j.Verdict != weather.VerdictGood {
		for k, reason := range j.Reasons {
			if k == mostReasons {
				out = append(out, tongue.Sayf("%d more reasons stand in the climate file.", len(j.Reasons)-mostReasons))
				break
			}
			out = append(out, ended(reason))
		}
	}
	var outside []string
	for _, m := range contract {
		if !slices.Contains(j.Months, m) {
			outside = append(outside, MonthName(m-1))
		}
	}
	if len(outside) > 0 {
		out = append(out, tongue.Sayf("The contract asks in %s, for which the fit was not judged: fit again with --scenario to have it judged there.", And(outside)))
	}
	return out
}

// FittedInShort says in the paragraph of an answer how good fitted weathers are: one by its
// station, more by the worst of them.
func FittedInShort(fits []Fit) string {
	if len(fits) == 0 {
		return ""
	}
	worst := fits[0]
	for _, f := range fits {
		if rank[f.Verdict] > rank[worst.Verdict] {
			worst = f
		}
	}
	verdict := weather.SayVerdict(worst.Verdict)
	if verdict == "" {
		verdict = tongue.Say("not judged")
	}
	if len(fits) == 1 {
		return tongue.Sayf("The weather is fitted to the record of %s and is %s.", worst.Station, verdict) + reasonInShort(worst.Judgement)
	}
	return tongue.Sayf("The weathers are fitted to records; the worst, of %s, is %s.", worst.Station, verdict)
}

// mostInReason is how many words a reason may have that stands in a paragraph.
const mostInReason = 14

// reasonInShort says why a fit is not better, if that is short.
func reasonInShort(j weather.Judgement) string {
	if j.Verdict == weather.VerdictGood || len(j.Reasons) == 0 || wordsOf(j.Reasons[0]) > mostInReason {
		return ""
	}
	return " " + ended(j.Reasons[0])
}

// Fit is a weather that was fitted to a station's record, and what is held of it.
type Fit struct {
	Station string
	weather.Judgement
}

// rank orders verdicts from the best to the worst; one that was never judged is the worst.
var rank = map[string]int{weather.VerdictGood: 0, weather.VerdictCare: 1, weather.VerdictUseless: 2, "": 3}

// NormalsInShort says in the paragraph of an answer what weather of monthly normals cannot know.
func NormalsInShort(sharp bool) string {
	if sharp {
		return tongue.Say("Monthly averages hide wet and dry runs: true odds may be up to 10 in 100 better.")
	}
	return tongue.Say("Monthly averages hide wet and dry runs: with rains as gentle as here the odds are right within a few in 100.")
}

// NormalsSentence says what weather of monthly normals alone cannot know, by how much and which
// way it errs: normals of Mumbai Colaba against its real years gave odds 0 to 8 points lower, other
// plans up to 10.
func NormalsSentence(station string, sharp bool) string {
	if sharp {
		return tongue.Sayf("The weather is drawn from monthly normals of %s, which do not tell spells: in a sharp monsoon, as here, the odds of months of the rains came out up to 10 points lower than by the real years of a record (drystalk fit weather takes one).", station)
	}
	return tongue.Sayf("The weather is drawn from monthly normals of %s, which do not tell spells: where the rains are as gentle as here the odds came out right within a few points, in a sharp monsoon up to 10 points too low.", station)
}
