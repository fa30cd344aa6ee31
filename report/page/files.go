package page

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"io"
	"mime"
	"net/http"
	"strings"
	"time"

	"drystalk/report"
	"drystalk/report/columns"
	"drystalk/report/document"
	"drystalk/sim/tidy"
)

// Names of files that the page hands out, beside those of an answer.
const (
	planFile     = "plan.yaml"           // the plan as it is now
	todayFile    = "today.yaml"          // today, in the weather that was chosen
	climateFile  = "climate.yaml"        // that of the weather which was chosen
	fittedFile   = "record-climate.yaml" // that of a record which was read and judged
	seasonsFile  = "seasons.csv"         // the seasons behind the answer
	besideReport = "beside-report.html"  // of the second plan
	besideJSON   = "beside-answer.json"
	columnsFile  = "seasons.columns.csv" // what its columns hold
)

// handedAs is what a browser names a file by: so are files named in lines for the command line.
func handedAs(name string) string { return "drystalk-" + name }

// taken is what there is to take away of an answer besides its report, figures and JSON.
type taken struct {
	files   []report.File
	seasons document.Seasons
}

// mostRows is how many rows a table of seasons may have to be handed out: some 45 MB.
const mostRows = 60_000

// take makes the files of what there is to take away.
func (out *result) take(more taken) error {
	for _, f := range more.files {
		out.files[f.Name] = f.Data
	}
	for _, p := range more.seasons.Plans {
		out.rows += p.Table.Seasons
	}
	if out.rows == 0 || out.rows > mostRows {
		return nil
	}
	return out.takeSeasons(&more.seasons)
}

// takeSeasons writes the table of seasons, packed, for it is the largest file of an answer.
func (out *result) takeSeasons(behind *document.Seasons) error {
	var packed, meanings bytes.Buffer
	zip := gzip.NewWriter(&packed)
	head := behind.Columns(tidy.Season)
	table, err := columns.NewCSV(zip, head)
	if err == nil {
		err = behind.Each(tidy.Season, table.Write)
	}
	if err == nil {
		err = table.Close()
	}
	if err == nil {
		err = zip.Close()
	}
	if err != nil {
		return err
	}
	out.packed = map[string][]byte{seasonsFile: packed.Bytes()}
	dictionary := columns.Dictionary(head)
	words, err := columns.NewCSV(&meanings, dictionary.Columns)
	if err != nil {
		return err
	}
	for _, row := range dictionary.Rows {
		if err := words.Write(row); err != nil {
			return err
		}
	}
	err = words.Close()
	out.files[columnsFile] = meanings.Bytes()
	return err
}

// finish makes the files of an answer; the paper of two pages and the spreadsheet bear today's date.
func (out *result) finish(d document.Document, today time.Time) error {
	d.Report.Dated = today
	out.report = d.Report
	files, err := d.Files()
	if err != nil {
		return err
	}
	out.files = map[string][]byte{}
	for _, f := range files {
		out.files[f.Name] = f.Data
	}
	if d.Report.Brief != nil {
		if out.files[report.BriefFile], err = d.Report.BriefHTML(today); err != nil {
			return err
		}
	}
	for _, c := range out.charts {
		svg, err := c.Encode("svg")
		if err != nil {
			return err
		}
		out.files["chart-"+c.Name+".svg"] = svg
	}
	return nil
}

// fileViews lists the files of an answer, with what they are called.
func (s *Server) fileViews(out *result) (list []fileView) {
	t := s.text
	for _, one := range []fileView{
		{report.BriefFile, t.Brief.String()},
		{"report.html", t.Report.String()},
		{"report.xlsx", t.Spreadsheet.String()},
		{document.BoughtFile, t.Bought.String()},
		{document.WaysFile, t.WaysFile.String()},
		{fittedFile, t.Climate.String()},
		{"figures.csv", t.Figures.String()},
		{seasonsFile, t.SeasonsTable.String()},
		{columnsFile, t.SeasonsColumns.String()},
		{"answer.json", t.JSON.String()},
		{besideReport, t.Second.Report.String()},
		{besideJSON, t.Second.JSON.String()},
	} {
		if out.files[one.Name] != nil || out.packed[one.Name] != nil {
			list = append(list, one)
		}
	}
	return list
}

// climateName is under which name the page has the k-th climate file of a plan.
func climateName(k int) string {
	if k == 0 {
		return climateFile
	}
	return fmt.Sprintf("climate-%d.yaml", k+1)
}

// planFiles lists what there is of a plan to take away, besides its answer.
func (s *Server) planFiles(at standing) []fileView {
	list := []fileView{{planFile, s.text.Scenario.String()}}
	if !at.weather.stated() {
		list = append(list, fileView{todayFile, s.text.TodayFile.String()})
	}
	for k, c := range at.now.Climates() {
		list = append(list, fileView{climateName(k), s.text.ClimateOf.String() + " " + baseName(c.Name)})
	}
	return list
}

// file hands out what was made of a plan, by a fixed list of names.
func (s *Server) file(w http.ResponseWriter, r *http.Request, p *plan) {
	name := r.PathValue("name")
	p.mu.Lock()
	at, last := p.standing, p.run
	p.mu.Unlock()
	switch name {
	case planFile:
		s.send(w, name, at.now.Write())
		return
	case todayFile:
		s.send(w, name, at.today.Write())
		return
	}
	for k, c := range at.now.Climates() {
		if name == climateName(k) {
			w.Header().Set("Content-Type", kinds["yaml"])
			w.Header().Set("Content-Disposition", mime.FormatMediaType("attachment", map[string]string{"filename": baseName(c.Name)}))
			_, _ = w.Write(c.Data)
			return
		}
	}
	if last == nil || !last.finished() || last.result == nil {
		s.notFound(w)
		return
	}
	if packed := last.result.packed[name]; packed != nil {
		s.sendPacked(w, r, name, packed)
		return
	}
	if last.result.files[name] == nil {
		s.notFound(w)
		return
	}
	s.send(w, name, last.result.files[name])
}

// kinds are the media types of what is handed out, by the end of its name.
var kinds = map[string]string{
	"html": "text/html; charset=utf-8", "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "csv": "text/csv; charset=utf-8",
	"json": "application/json", "yaml": "application/yaml", "svg": "image/svg+xml",
}

// named says what is sent, and under which name it is saved.
func named(h http.Header, name string) {
	end := name[strings.LastIndex(name, ".")+1:]
	h.Set("Content-Type", kinds[end])
	if end == "svg" {
		h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; sandbox")
	} else {
		h.Set("Content-Disposition", `attachment; filename="`+handedAs(name)+`"`)
	}
}

func (s *Server) send(w http.ResponseWriter, name string, data []byte) {
	named(w.Header(), name)
	_, _ = w.Write(data)
}

// sendPacked sends a packed file to a browser that unpacks it, and unpacks it for others.
func (s *Server) sendPacked(w http.ResponseWriter, r *http.Request, name string, packed []byte) {
	named(w.Header(), name)
	if strings.Contains(r.Header.Get("Accept-Encoding"), "gzip") {
		w.Header().Set("Content-Encoding", "gzip")
		_, _ = w.Write(packed)
		return
	}
	zip, err := gzip.NewReader(bytes.NewReader(packed))
	if err != nil {
		s.broken(w)
		return
	}
	_, _ = io.Copy(w, zip) //nolint:gosec // packed by this page, of at most mostRows rows
}
