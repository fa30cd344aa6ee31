package chart

import (
	"fmt"
	"image/color"
	"math"
	"strconv"

	"drystalk/report/words"
	"drystalk/tongue"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/draw"
)

// Place is a site with what stands there.
type Place struct {
	Name          string
	Dryers, Stand int     // in all, and of them those that stand already
	RackM2        float64 // of all kinds
	Share         float64 // of the contract
	At            *Point  // nil where no coordinates are given
}

// Point is where a site lies.
type Point struct{ LatitudeDeg, LongitudeDeg float64 }

// Places draws where dryers stand: a row for each site with its racks and dryers, and beside them a
// plan of the sites where their coordinates are given.
func Places(sites []Place) (Chart, error) {
	rows, err := placeRows(sites)
	if err != nil {
		return Chart{}, err
	}
	all, where := 0, ""
	for _, s := range sites {
		all += s.Dryers
		if s.Dryers > 0 {
			where += fmt.Sprintf(" %s: %d.", s.Name, s.Dryers)
		}
	}
	drawn := headed{title: tongue.Sayf("Where %s stand", words.Dryers(all)), body: beside{rows}, marks: placeMarks(sites)}
	switch all {
	case 0:
		drawn.title = tongue.Say("The sites, without a dryer")
	case 1:
		drawn.title = tongue.Say("Where 1 dryer stands")
	}
	if mapped(sites) {
		across, err := placeMap(sites)
		if err != nil {
			return Chart{}, err
		}
		drawn.body = beside{across, rows}
		drawn.marks = append(drawn.marks, mark{nil, tongue.Say("left: where the sites lie, full where dryers stand")})
	}
	c := drawn.rows("placement", drawn.title+"."+where, len(sites))
	if mapped(sites) {
		c.high = max(chartHeight, c.high)
	}
	return c, nil
}

// placeMarks say what the marks of a row are.
func placeMarks(sites []Place) []mark {
	out := []mark{{stroke(barOf(pale)), tongue.Say("pale bar: racks (m²)")}, {nil, tongue.Say("per cent: of the contract")}}
	stand, more := 0, 0
	for _, s := range sites {
		stand, more = stand+s.Stand, more+s.Dryers-s.Stand
	}
	if more > 0 {
		out = append(out, mark{glyph(dryerTile(true)), tongue.Say("full square: new dryer")})
	}
	if stand > 0 {
		out = append(out, mark{glyph(dryerTile(false)), tongue.Say("open square: stands already")})
	}
	return out
}

// mapped tells whether all sites say where they lie.
func mapped(sites []Place) bool {
	for _, s := range sites {
		if s.At == nil {
			return false
		}
	}
	return len(sites) > 1
}

// barEnds is where the longest bar of racks ends, of a row 100 wide; dryers stand behind it.
const barEnds = 55

// The widths of what stands beside each other in a chart of places, points: all of it, and a row where
// a plan stands beside it.
const (
	placesWide    = 480
	placesWideMap = 230
)

// placeRows draws a row for each site.
func placeRows(sites []Place) (*plot.Plot, error) {
	p := blank("")
	most := 1.0
	for _, s := range sites {
		most = max(most, s.RackM2)
	}
	p.X.Min, p.X.Max, p.Y.Min, p.Y.Max = 0, 100, -0.4, float64(len(sites))-0.1
	p.HideAxes()
	for i, s := range sites {
		y := row(i, len(sites))
		if err := line(p, level(0, barEnds*s.RackM2/most, y), barOf(pale)); err != nil {
			return nil, err
		}
		for k := range s.Dryers {
			tile, err := plotter.NewScatter(plotter.XYs{{X: barEnds + 6 + 6*float64(k), Y: y}})
			if err != nil {
				return nil, err
			}
			tile.GlyphStyle = dryerTile(k >= s.Stand)
			p.Add(tile)
		}
		label(p, 0, y, placeWords(i, s, mapped(sites)), ink, 0, vg.Points(13.5), draw.XLeft)
	}
	return p, nil
}

// placeWords says what a row shows; a long name is cut where a plan stands beside it.
func placeWords(i int, s Place, beside bool) string {
	width := float64(placesWide)
	if beside {
		width = placesWideMap
	}
	number, has := fmt.Sprintf("%d  ", i+1), fmt.Sprintf(": %s m², %s", words.Whole(s.RackM2), words.Percent(s.Share))
	return number + cut(s.Name, width-room(number+has, wordPoints)) + has
}

// placeMap draws where the sites lie, north above, as discs with their numbers: full where dryers
// stand. Those that lie too near to be told apart are drawn a little apart.
func placeMap(sites []Place) (drawing, error) {
	at, acrossKm := spread(sites)
	p := blank(tongue.Sayf("north is up; about %s km across", words.Figure(acrossKm)))
	p.HideY()
	p.X.LineStyle.Width, p.X.Tick.Length, p.X.Tick.Marker = 0, 0, plot.ConstantTicks{}
	for i, s := range sites {
		site, err := plotter.NewScatter(plotter.XYs{at[i]})
		if err != nil {
			return nil, err
		}
		site.GlyphStyle = draw.GlyphStyle{Color: ink, Radius: vg.Points(siteRadius), Shape: numbered{strconv.Itoa(i + 1), s.Dryers > 0}}
		p.Add(site)
	}
	return ground{p}, nil
}

// siteRadius is that of the disc of a site, points.
const siteRadius = 7

// ground is a map whose square of 1 is drawn as a square, with room for discs about it.
type ground struct{ *plot.Plot }

// Draw draws the map.
func (g ground) Draw(c draw.Canvas) {
	g.X.Min, g.X.Max, g.Y.Min, g.Y.Max = 0, 1, 0, 1
	data := g.DataCanvas(c)
	wide, high := (data.Max.X-data.Min.X).Points()-3*siteRadius, (data.Max.Y-data.Min.Y).Points()-3*siteRadius
	each := min(wide, high) // points
	halfX, halfY := (wide+3*siteRadius)/each/2, (high+3*siteRadius)/each/2
	g.X.Min, g.X.Max, g.Y.Min, g.Y.Max = 0.5-halfX, 0.5+halfX, 0.5-halfY, 0.5+halfY
	g.Plot.Draw(c)
}

// dryerTile is how a dryer of a row is marked: full, or open where it stands already.
func dryerTile(full bool) draw.GlyphStyle {
	return draw.GlyphStyle{Color: ink, Radius: vg.Points(3.5), Shape: tile{full}}
}

// tile is a square, full or white within.
type tile struct{ full bool }

// DrawGlyph draws the mark.
func (t tile) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	r := style.Radius
	corners := []vg.Point{{X: at.X - r, Y: at.Y - r}, {X: at.X + r, Y: at.Y - r}, {X: at.X + r, Y: at.Y + r}, {X: at.X - r, Y: at.Y + r}}
	fill := color.Color(color.White)
	if t.full {
		fill = style.Color
	}
	c.FillPolygon(fill, corners)
	c.StrokeLines(draw.LineStyle{Color: style.Color, Width: vg.Points(1.2)}, append(corners, corners[0]))
}

// apartAtLeast is how far discs stand from each other at least, of the width of a map.
const apartAtLeast = 0.14

// spread returns where sites lie in a square of 1, none nearer to another than discs are wide, and
// how many km the square is across.
func spread(sites []Place) (at plotter.XYs, acrossKm float64) {
	const kmPerDegree = 111.2
	low, high := Point{90, 180}, Point{-90, -180}
	for _, s := range sites {
		low = Point{min(low.LatitudeDeg, s.At.LatitudeDeg), min(low.LongitudeDeg, s.At.LongitudeDeg)}
		high = Point{max(high.LatitudeDeg, s.At.LatitudeDeg), max(high.LongitudeDeg, s.At.LongitudeDeg)}
	}
	narrow := math.Cos((low.LatitudeDeg + high.LatitudeDeg) / 2 * math.Pi / 180) // a degree of longitude is shorter there
	wide := max((high.LongitudeDeg-low.LongitudeDeg)*narrow, high.LatitudeDeg-low.LatitudeDeg, 1e-6)
	for _, s := range sites {
		at = append(at, plotter.XY{
			X: 0.5 + (s.At.LongitudeDeg-(low.LongitudeDeg+high.LongitudeDeg)/2)*narrow/wide,
			Y: 0.5 + (s.At.LatitudeDeg-(low.LatitudeDeg+high.LatitudeDeg)/2)/wide,
		})
	}
	for range 60 {
		push(at)
	}
	return at, wide * kmPerDegree
}

// push moves points that lie too near to each other half of what is wanting apart.
func push(at plotter.XYs) {
	for i := range at {
		for j := range i {
			dx, dy := at[i].X-at[j].X, at[i].Y-at[j].Y
			d := math.Hypot(dx, dy)
			if d >= apartAtLeast {
				continue
			}
			move, long := (apartAtLeast-d)/2, d
			if d < 1e-9 {
				dx, dy, long = float64(i-j), 1, math.Hypot(float64(i-j), 1) // in one place: each its own way
			}
			at[i].X, at[i].Y = at[i].X+dx/long*move, at[i].Y+dy/long*move
			at[j].X, at[j].Y = at[j].X-dx/long*move, at[j].Y-dy/long*move
		}
	}
}

// numberPoints is how high the number of a site is on a map.
const numberPoints = 9

// numbered is a disc with a number in it: full, or open.
type numbered struct {
	number string
	full   bool
}

// DrawGlyph draws the mark.
func (n numbered) DrawGlyph(c *draw.Canvas, style draw.GlyphStyle, at vg.Point) {
	fill, in := color.Color(color.White), color.Color(ink)
	if n.full {
		fill, in = style.Color, color.White
	}
	var path vg.Path
	path.Move(vg.Point{X: at.X + style.Radius, Y: at.Y})
	path.Arc(at, style.Radius, 0, 2*math.Pi)
	path.Close()
	c.SetColor(fill)
	c.Fill(path)
	c.SetColor(ink)
	c.SetLineWidth(vg.Points(1.2))
	c.SetLineDash(nil, 0)
	c.Stroke(path)
	write(*c, n.number, in, vg.Point{X: at.X - vg.Points(wide(n.number, numberPoints)/2), Y: at.Y - 3.2}, numberPoints)
}
