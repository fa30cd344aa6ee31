package book

import (
	"strings"

	"drystalk/tongue"

	"github.com/xuri/excelize/v2"
)

// printed is how a sheet is set up to print.
type printed struct {
	across  bool   // across the page instead of upright
	heads   string // rows, or columns and rows, that are said again on each page, such as "$1:$2"
	wide    int    // pages that stand side by side; 0 for one
	whole   bool   // in its own size on as many pages as that takes
	onePage bool   // one page high too
}

// A4 in the table of paper sizes of spreadsheets (ECMA-376, part 1, 18.3.1.63).
const a4 = 9

// print sets a sheet up for A4: no wider than its pages, its heads on each page, and in the foot the region,
// the sheet and the page.
func (b *book) print(sheet string, p printed) error {
	paper, side, wide, high, fit := a4, "portrait", max(1, p.wide), 0, !p.whole
	if p.across {
		side = "landscape"
	}
	if p.onePage {
		high = 1
	}
	layout := excelize.PageLayoutOptions{Size: &paper, Orientation: &side}
	if fit {
		layout.FitToWidth, layout.FitToHeight = &wide, &high
	}
	if err := b.file.SetPageLayout(sheet, &layout); err != nil {
		return err
	}
	if err := b.file.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	edge, foot := 0.6, 0.3 // inches
	if err := b.file.SetPageMargins(sheet, &excelize.PageLayoutMarginsOptions{Left: &edge, Right: &edge, Top: &edge, Bottom: &edge, Footer: &foot}); err != nil {
		return err
	}
	if err := b.file.SetHeaderFooter(sheet, &excelize.HeaderFooterOptions{OddFooter: footer(b.region, sheet)}); err != nil {
		return err
	}
	if p.heads == "" {
		return nil
	}
	var refs []string
	for part := range strings.SplitSeq(p.heads, ",") {
		refs = append(refs, "'"+sheet+"'!"+part)
	}
	return b.file.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: strings.Join(refs, ","), Scope: sheet})
}

// longestFooter is what spreadsheets allow, with room for the codes.
const longestFooter = 200

// footer says in the foot of a page which region, sheet and page it is.
func footer(region, sheet string) string {
	literal := strings.NewReplacer("&", "&&")
	return tongue.Sayf("&L%s&C%s&Rpage &P of &N", literal.Replace(inWords(region, longestFooter-longestSheetName)), literal.Replace(sheet))
}
