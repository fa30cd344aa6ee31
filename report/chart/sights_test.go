package chart

import (
	"fmt"
	"image/color"
	"math"
	"strconv"
	"testing"

	"github.com/stretchr/testify/assert"
)

// sight is how colours are seen: red, green and blue light of each of these.
type sight struct {
	name string
	sees [3][3]float64
}

var full = sight{"full sight", [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}}

// sights are the usual sight and the three kinds of colour blindness, at severity 1: G. M. Machado,
// M. M. Oliveira, L. A. F. Fernandes, A physiologically-based model for simulation of color vision
// deficiency, IEEE Transactions on Visualization and Computer Graphics 15 (2009), 1291-1298, table 1.
var sights = []sight{
	full,
	{"protanopia", [3][3]float64{{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}}},
	{"deuteranopia", [3][3]float64{{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}}},
	{"tritanopia", [3][3]float64{{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}}},
}

// luminance returns the relative luminance of a colour as it is seen, from 0 to 1: IEC 61966-2-1 (sRGB).
func (s sight) luminance(hex string) float64 {
	var light [3]float64
	for i := range light {
		v, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			panic(err)
		}
		light[i] = math.Pow((float64(v)/255+0.055)/1.055, 2.4)
		if v <= 10 {
			light[i] = float64(v) / 255 / 12.92
		}
	}
	y := 0.0
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		seen := 0.0
		for k := range light {
			seen += s.sees[i][k] * light[k]
		}
		y += weight * min(1, max(0, seen))
	}
	return y
}

// lightness returns CIE L*, from 0 to 100: ISO/CIE 11664-4:2019, eq. 1.
func (s sight) lightness(hex string) float64 {
	y := s.luminance(hex)
	const dark, slope = 216.0 / 24389, 24389.0 / 27
	if y <= dark {
		return slope * y
	}
	return 116*math.Cbrt(y) - 16
}

// shown writes a colour as pictures do.
type shown struct{ color.RGBA }

func (c shown) String() string { return fmt.Sprintf("%02X%02X%02X", c.R, c.G, c.B) }

// A grey of 119 of 255 has the lightness 50.0, white 100 and black 0 (Bruce Lindbloom's CIE colour
// calculator, sRGB, D65); grey is seen alike with every sight, as the rows of the matrices add up to 1.
func TestLightness(t *testing.T) {
	for _, s := range sights {
		assert.InDelta(t, 50.03, s.lightness("777777"), 0.1, s.name)
		assert.InDelta(t, 100, s.lightness("FFFFFF"), 0.1, s.name)
		assert.InDelta(t, 0, s.lightness("000000"), 0.1, s.name)
	}
}
