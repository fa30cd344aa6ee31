package page

import (
	"testing"
	"time"

	"drystalk/sim/answers"
	"drystalk/sim/decide"

	"github.com/stretchr/testify/assert"
)

// What is left is reckoned from the step that a run is at, not from those before it, though both be of one
// stage; and when nothing is left, nothing is said of it.
func TestTimeLeftIsOfTheStepUnderWay(t *testing.T) {
	s := New("test")
	t.Cleanup(s.stop)
	now := time.Date(2026, time.November, 26, 12, 0, 0, 0, time.UTC)
	s.clock = func() time.Time { return now }
	r := &run{}
	r.begin(now)
	tell, at := s.told(r), answers.Doing{Stage: decide.Judging}
	after := func(seconds, done int) string {
		now = now.Add(time.Duration(seconds) * time.Second)
		tell(at, done, 100)
		return s.progressWords(r)
	}
	assert.NotContains(t, after(0, 1), "left")
	assert.Contains(t, after(10, 50), "about 10 s left of this step")
	assert.NotContains(t, after(10, 100), "left")
	after(60, 1)
	assert.Contains(t, after(10, 50), "about 10 s left of this step")
}
