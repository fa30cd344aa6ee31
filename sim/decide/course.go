package decide

import (
	"context"

	"drystalk/sim/money"
	"drystalk/sim/trials"
)

// CourseQuestion is "what becomes of the plan of a region in so many seasons?".
type CourseQuestion struct {
	Setup   trials.Setup
	Prices  *money.Prices // nil: nothing is booked
	Seasons int
	Tell    func(done int) // nil: nobody is told

	piece int // seasons that are lived through before the rows of their sites are added up, mostInTheShed or more; 0: pieceOfCourse
}

// pieceOfCourse is enough for an answer's usual seasons to stay one piece, and little to hold.
const pieceOfCourse = 1024

// Course is the way of a plan through many seasons: their table, the air of its hub, and its money.
type Course struct {
	Table *trials.Table
	Hub   HubAir
	money *earning // nil where there are no prices
}

// CourseOf lives through the seasons of the plan of a setup's region, as WithHub does. Where the setup says
// that nobody reads the rows of single sites, of more seasons than a piece the sum of the sites alone is
// kept.
func CourseOf(ctx context.Context, q CourseQuestion) (*Course, error) {
	if q.piece == 0 {
		q.piece = pieceOfCourse
	}
	together := q.Setup.Together && q.Seasons > q.piece
	if !together {
		q.piece = q.Seasons
	}
	table, hub, err := WithHub(ctx, q.Setup, q.piece, q.Tell)
	if err != nil {
		return nil, err
	}
	c := &Course{Hub: hub}
	if q.Prices != nil {
		c.money = newEarning(q.Seasons)
	}
	if err := c.add(&q, table, together); err != nil {
		return nil, err
	}
	for from := q.piece; from < q.Seasons; from += q.piece {
		next, err := q.Setup.Table(ctx, from, min(q.piece, q.Seasons-from), trials.Only(PlanOf(q.Setup.Region)), func(done int) {
			if q.Tell != nil {
				q.Tell(from + done)
			}
		})
		if err != nil {
			return nil, err
		}
		if err := c.add(&q, next, together); err != nil {
			return nil, err
		}
	}
	return c, nil
}

// add books a piece of the seasons and adds it, with the rows of its sites added up or as they are.
func (c *Course) add(q *CourseQuestion, next *trials.Table, together bool) (err error) {
	plan := PlanOf(q.Setup.Region)
	if c.money != nil {
		if err = c.money.add(q.Prices, q.Setup.Region, next, plan); err != nil {
			return err
		}
	}
	if together {
		if next, err = next.Together(plan); err != nil {
			return err
		}
	}
	c.Table = joinedTo(c.Table, next)
	return nil
}

// Earns returns what the plan costs and earns in a year; nil where there are no prices.
func (c *Course) Earns(p *money.Prices, plan []int) *Earns {
	if c.money == nil {
		return nil
	}
	e, _ := c.money.say(p, plan)
	return &e
}
