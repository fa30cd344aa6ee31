package chart

import (
	"html"
	"regexp"
	"strconv"
	"unicode/utf8"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// written is a piece of text as the drawing library writes it into an SVG.
var written = regexp.MustCompile(`<text ([^>]*?)(\s+style="font-family:)Liberation Sans(;[^"]*?font-size:([0-9.]+)px[^"]*")>([^<]*)</text>`)

// families are the fonts of a chart: where the first is missing, the next that there is.
const families = "'Liberation Sans',Arial,Helvetica,sans-serif"

// inAnyFont gives every text of an SVG the width that it was laid out for, so that letters of
// another font run neither over what stands beside them nor over the edge.
func inAnyFont(svg []byte) []byte {
	return written.ReplaceAllFunc(svg, func(text []byte) []byte {
		m := written.FindSubmatch(text)
		said := html.UnescapeString(string(m[5]))
		length := ""
		if points, err := strconv.ParseFloat(string(m[4]), 64); err == nil && utf8.RuneCountInString(said) > 1 {
			length = ` textLength="` + strconv.FormatFloat(wide(said, points), 'f', 1, 64) + `" lengthAdjust="spacingAndGlyphs"`
		}
		return []byte("<text " + string(m[1]) + length + string(m[2]) + families + string(m[3]) + ">" + string(m[5]) + "</text>")
	})
}

// wide returns how wide a text is in the font of the charts at so many points, in points.
func wide(text string, points float64) float64 {
	f := plot.DefaultFont
	f.Size = vg.Points(points)
	face := font.DefaultCache.Lookup(f, f.Size)
	return face.Width(text).Points()
}
