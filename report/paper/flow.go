package paper

import "math"

// leastLines are so few lines of a paragraph that no page begins or ends with fewer of it.
const leastLines = 3

// flow is a paper as it fills its pages, in mm.
type flow struct {
	pages int
	used  float64 // of the last page
	free  float64 // of the first page, once there is a second
	table int     // page of the table
	line  float64 // how high a line is
}

// turn begins a page.
func (f *flow) turn() {
	if f.pages == 1 {
		f.free = pageHigh - f.used
	}
	f.pages, f.used = f.pages+1, 0
}

// whole puts what is never parted.
func (f *flow) whole(mm float64) {
	if f.used > 0 && f.used+mm > pageHigh {
		f.turn()
	}
	f.used += mm
	if f.used > pageHigh { // higher than a page, which no paper of two may have
		f.pages += 2
	}
}

// put puts the table.
func (f *flow) put(mm float64) {
	f.whole(mm)
	f.table = f.pages
}

// passage puts a heading with the paragraphs under it.
func (f *flow) passage(says []string) {
	head := headHigh * f.line / lineHigh
	for _, p := range says {
		f.paragraph(head, linesOf(p, lineLetters))
		head = 0
	}
}

// paragraph puts a paragraph of so many lines under a heading so high, which stays with it. One that is
// parted between pages has some of its lines on both; a short one is not parted.
func (f *flow) paragraph(head, lines float64) {
	room := math.Floor((pageHigh - f.used - head) / f.line)
	under := underParagraph * f.line / lineHigh
	switch here := min(room, lines-leastLines); {
	case lines <= room:
		f.used += head + lines*f.line + under
	case here >= leastLines:
		f.used += head + here*f.line
		f.turn()
		f.used = (lines-here)*f.line + under
	default:
		f.turn()
		f.used = head + lines*f.line + under
	}
}

// short tells whether a paragraph has too few lines to be parted between pages.
func short(text string) bool { return linesOf(text, lineLetters) < 2*leastLines }
