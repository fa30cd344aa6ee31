package weather

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Numbers of a verdict are read aloud: no exponents, and no room where no unit is.
func TestNumbersOfAVerdict(t *testing.T) {
	for want, of := range map[string]struct {
		x    float64
		unit string
	}{"100 mm": {99.7, "mm"}, "120 mm": {123, "mm"}, "0.1": {0.0999, ""}, "0.12": {0.1234, ""}, "9.5 days": {9.46, "days"}, "0": {0, ""}, "2": {2, ""}} {
		assert.Equal(t, want, inUnit(of.x, of.unit))
	}
}
