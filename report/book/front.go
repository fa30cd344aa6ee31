package book

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"github.com/xuri/excelize/v2"

	"drystalk/report/table"
	"drystalk/tongue"
)

// Front is what the first sheet says, from top to bottom, as the paper of two pages does.
type Front struct {
	Region string
	Date   string // "" for none
	Title  string
	Blocks []Block
}

// Block is a heading, paragraphs below it, and a small table as it is read; each may be missing.
type Block struct {
	Title string
	Says  []string
	Bold  bool
	Table table.Table
}

// frontSheet is the name of the first sheet.
func frontSheet() string { return tongue.Say("Answer") }

// sheetFront is the first sheet being written.
type sheetFront struct {
	*book
	widths []float64 // of its columns
	wide   float64   // all of them
	row    int       // the last that was written
	high   float64   // points, of all rows
}

// free leaves a low row free.
func (s *sheetFront) free() error {
	s.row++
	return s.height(lineHigh / 2)
}

// height makes the last row so many points high.
func (s *sheetFront) height(points float64) error {
	s.high += points
	return s.file.SetRowHeight(frontSheet(), s.row, points)
}

// front fills the first sheet.
func (b *book) front(f Front) error {
	b.names[strings.ToLower(frontSheet())] = true
	if err := b.file.SetSheetName("Sheet1", frontSheet()); err != nil {
		return err
	}
	s := sheetFront{book: b}
	if err := s.layOut(f); err != nil {
		return err
	}
	head := strings.Trim(f.Region+", "+f.Date, ", ")
	if err := s.says(head, letters{size: 10}); err != nil {
		return err
	}
	if err := s.says(f.Title, letters{size: 14, bold: true}); err != nil {
		return err
	}
	for _, block := range f.Blocks {
		if err := s.block(block); err != nil {
			return err
		}
	}
	return b.print(frontSheet(), printed{onePage: s.high <= onePageHigh})
}

// onePageHigh is how high the first sheet may be, in points, to be printed on one page: a page of A4
// at three quarters of its size, letters of 10 points at 7.5.
const onePageHigh = 755 / 0.75

// layOut sets the columns so that the small table fits and a page is filled.
func (s *sheetFront) layOut(f Front) error {
	widths := []float64{leastWide}
	for _, b := range f.Blocks {
		for c, head := range b.Table.Head {
			if c >= len(widths) {
				widths = append(widths, leastWide)
			}
			for _, word := range tongue.Words(head) {
				widths[c] = max(widths[c], float64(utf8.RuneCountInString(word)+3))
			}
			for _, row := range b.Table.Rows {
				widths[c] = max(widths[c], float64(min(mostWords, utf8.RuneCountInString(row[c].Text))+2))
			}
		}
	}
	for _, w := range widths {
		s.wide += w
	}
	if s.wide < pageWide {
		for c := range widths {
			widths[c] += (pageWide - s.wide) / float64(len(widths))
		}
		s.wide = pageWide
	}
	s.widths = widths
	for c, w := range widths {
		name := columnName(c)
		if err := s.file.SetColWidth(frontSheet(), name, name, w); err != nil {
			return err
		}
	}
	return nil
}

// block writes a block.
func (s *sheetFront) block(b Block) error {
	if b.Title != "" {
		if err := s.free(); err != nil {
			return err
		}
		if err := s.says(b.Title, letters{size: 12, bold: true}); err != nil {
			return err
		}
	}
	for _, text := range b.Says {
		if err := s.says(text, letters{size: 10 + boldMore(b.Bold), bold: b.Bold}); err != nil {
			return err
		}
	}
	return s.table(b.Table)
}

// boldMore is how much larger bold paragraphs are, points.
func boldMore(bold bool) float64 {
	if bold {
		return 1
	}
	return 0
}

// letters are how a line looks.
type letters struct {
	size float64
	bold bool
}

// says writes a paragraph over all columns, as high as it needs to be.
func (s *sheetFront) says(text string, look letters) error {
	if text == "" {
		return nil
	}
	s.row++
	from, to := fmt.Sprintf("A%d", s.row), fmt.Sprintf("%s%d", columnName(len(s.widths)-1), s.row)
	if err := s.file.SetCellStr(frontSheet(), from, text); err != nil {
		return err
	}
	if from != to {
		if err := s.file.MergeCell(frontSheet(), from, to); err != nil {
			return err
		}
	}
	if err := s.style(frontSheet(), from, to, excelize.Style{Font: &excelize.Font{Family: "Arial", Size: look.size, Bold: look.bold}, Alignment: wrapped("left")}); err != nil {
		return err
	}
	inLine := s.wide * 11 / look.size
	if look.bold {
		inLine *= boldFills
	} else {
		inLine *= fills
	}
	return s.height(lineHigh*look.size/11*float64(linesOf(text, inLine)) + 3)
}

// table writes a small table as it is read; a cell of one number is a number.
func (s *sheetFront) table(t table.Table) error {
	if len(t.Rows) == 0 {
		return nil
	}
	if err := s.free(); err != nil {
		return err
	}
	if err := s.says(t.Title, letters{size: 11, bold: true}); err != nil {
		return err
	}
	s.row++
	lines := 1
	for c, head := range t.Head {
		at := fmt.Sprintf("%s%d", columnName(c), s.row)
		if err := s.file.SetCellStr(frontSheet(), at, head); err != nil {
			return err
		}
		style := excelize.Style{Alignment: wrapped(side(c, t)), Border: []excelize.Border{{Type: "bottom", Style: 1, Color: "16323F"}}}
		if err := s.style(frontSheet(), at, at, style); err != nil {
			return err
		}
		lines = max(lines, linesOf(head, fills*s.widths[c]))
	}
	if err := s.height(lineHigh * float64(lines)); err != nil {
		return err
	}
	for _, row := range t.Rows {
		s.row++
		lines := 1
		for c, x := range row {
			lines = max(lines, linesOf(x.Text, fills*s.widths[c]))
			if err := s.entry(frontSheet(), fmt.Sprintf("%s%d", columnName(c), s.row), asRead(x), side(c, t)); err != nil {
				return err
			}
		}
		if err := s.height(lineHigh * float64(lines)); err != nil {
			return err
		}
	}
	return nil
}

// side is the side to which a column of a table is aligned.
func side(c int, t table.Table) string {
	if c < t.Left {
		return "left"
	}
	return "right"
}

// asRead is a cell as it is read: its number where it says that and nothing else.
func asRead(c table.Cell) entry {
	if c.Form == table.Words || c.Form == table.Share || c.Ranged() || c.Note != "" || math.IsNaN(c.Value) {
		return entry{text: c.Text}
	}
	return end(c, c.Value)
}
