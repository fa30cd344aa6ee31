package report

import (
	"math"
	"strings"

	"drystalk/report/chart"
	"drystalk/report/table"
	"drystalk/report/words"
	"drystalk/sim/money"
	"drystalk/sim/study"
	"drystalk/sim/trials"
)

// Study is what is said of a study whose shards are all there.
type Study struct {
	Name     string
	Invented bool // the place and its numbers are nobody's
	Seasons  int  // of each point
	Trials   int
	Digest   string
	Currency string
	Points   []words.StudyPoint
	Effects  []words.StudyEffect

	points int
}

// ForStudy lays out what a study comes to.
func ForStudy(s *study.Study, result *study.Result) Study {
	out := Study{Name: s.Name, Seasons: s.Seasons, Trials: result.Trials, Digest: result.Digest, points: len(s.Points)}
	asked := map[int]float64{}
	if s.Design == nil {
		for i := range s.Points {
			out.Points = append(out.Points, words.StudyPoint{Name: s.Points[i].Name})
		}
	}
	for _, l := range result.Summary {
		if outcome, rest, ok := strings.Cut(l.Of, ":"); ok {
			what, input, _ := strings.Cut(rest, ":")
			out.Effects = append(out.Effects, words.StudyEffect{
				Point: s.Points[l.Point].Name, Outcome: outcome, Input: input, What: strings.ReplaceAll(what, "_", " "), Unit: l.Unit,
				Effect: trials.Mean{Mean: l.Estimate, Low: l.Low, High: l.High, Seasons: l.N},
			})
		} else if s.Design == nil {
			out.put(&out.Points[l.Point], &l, asked)
		}
	}
	return out
}

// put puts a line of the summary to its point.
func (o *Study) put(p *words.StudyPoint, l *study.Line, asked map[int]float64) {
	odds := trials.Odds{Met: int(math.Round(l.Estimate * float64(l.N))), Seasons: l.N, Share: l.Estimate, Low: l.Low, High: l.High}
	switch month, isMonth := strings.CutPrefix(l.Of, "met_"); {
	case isMonth && (p.WorstMonth == "" || odds.Share < p.Worst.Share):
		p.WorstMonth, p.Worst = words.MonthOf(month), odds
	case l.Of == "all_months_met":
		p.All = odds
	case l.Of == "asked_stalks":
		asked[l.Point] = l.Estimate
	case l.Of == "delivered_stalks" && asked[l.Point] > 0:
		p.Delivered = l.Estimate / asked[l.Point]
	case l.Of == "money_net" || l.Of == "money_"+money.NetBeforePurchase && p.Net == nil:
		p.Net, o.Currency = &trials.Mean{Mean: l.Estimate, Low: l.Low, High: l.High, Seasons: l.N}, l.Unit
	}
}

// Sentence returns the answer in one sentence.
func (o *Study) Sentence() string {
	screened := o.mostTelling()
	if len(screened) > 0 {
		return words.EffectsSentence(o.Name, screened)
	}
	return words.StudySentence(o.Name, o.Points)
}

// mostTelling returns the effects that say how much an input matters in all.
func (o *Study) mostTelling() (out []words.StudyEffect) {
	for _, e := range o.Effects {
		if e.What == "total index" || e.What == "mean absolute effect" {
			out = append(out, e)
		}
	}
	return out
}

// Text returns the answer for a terminal: a sentence, what the rows are, and a table.
func (o *Study) Text() string {
	rows := words.StudyRows(o.points, o.Trials, o.Digest)
	if o.Invented {
		rows = InventedWords() + " " + rows
	}
	text := words.Wrapped(o.Sentence()) + "\n\n" + words.Wrapped(rows) + "\n\n"
	switch {
	case len(o.Effects) > 0:
		text += table.StudyEffects(o.Effects).Text()
	case len(o.Points) > 0:
		text += table.StudyPoints(o.Points, o.Seasons, o.Currency).Text()
	}
	return text + "\n" + words.Wrapped(CautionLine(false)) + "\n"
}

// Files returns the chart of the study, in the formats asked for.
func (o *Study) Files(formats ...string) (files []File, err error) {
	var c chart.Chart
	switch telling := o.mostTelling(); {
	case len(telling) > 0:
		c, err = chart.StudyEffects(telling)
	case len(o.Points) > 0:
		c, err = chart.StudyOdds(o.Points)
	default:
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	for _, format := range formats {
		data, err := c.Encode(format)
		if err != nil {
			return nil, err
		}
		files = append(files, File{c.Name + "." + format, data})
	}
	return files, nil
}
