package main

import (
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"drystalk/report"
	"drystalk/report/document"
	"drystalk/sim/answers"
	"drystalk/tongue"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// writer writes the answers of this program down.
var writer = document.Writer{Version: version}

// ask reads the plan of the flags and asks a question of it, with progress on a terminal.
func ask[A any](t terminal, f *plan, question func(c answers.Case, tell answers.Progress) (A, error)) (A, error) {
	var none A
	s, err := f.loaded(t)
	if err != nil {
		return none, err
	}
	c, err := within(t.ctx, func() (answers.Case, error) { return s.Setup(f.Seed) })
	if err != nil {
		return none, err
	}
	tell, end := progress(t.err)
	defer end()
	return question(c, tell)
}

// progress returns what shows on a terminal how far a run has come, and how to end that;
// nothing shows in a pipe.
func progress(w io.Writer) (tell answers.Progress, end func()) {
	if !onTerminal(w) {
		return nil, func() {}
	}
	f := w.(*os.File)
	var bar *progressbar.ProgressBar
	tell = func(at answers.Doing, done, of int) {
		switch {
		case at.Stage != "" && of > 0:
			_, _ = tongue.Fprintf(f, "\r\x1b[K%s, %d of %d", report.Doing(at), done, of)
		case at.Stage != "":
			_, _ = fmt.Fprintf(f, "\r\x1b[K%s", report.Doing(at))
		case bar == nil:
			bar = progressbar.NewOptions(of,
				progressbar.OptionSetWriter(f), progressbar.OptionSetDescription(tongue.Say("seasons")),
				progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish(),
			)
			fallthrough
		default:
			bar.ChangeMax(of)
			_ = bar.Set(done)
		}
	}
	return tell, func() {
		if bar != nil {
			_ = bar.Finish()
		}
		_, _ = fmt.Fprint(f, "\r\x1b[K")
	}
}

// onTerminal tells whether what is written is seen at once by somebody.
func onTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// errStopped is returned after an interrupted run has said what it knows.
var errStopped error = tongue.Fault("stopped early; what is above is what was known by then")

func stoppedEarly(err error, stopped bool) error {
	if err == nil && stopped {
		return errStopped
	}
	return err
}

// print prints an answer as JSON, or as text with the paths of its files and of more of them. The
// files are written before the text is printed, for whoever reads only its beginning; where that
// fails the text is printed all the same.
func (f *scenarioFlags) print(t terminal, d document.Document, out string, more ...report.File) error {
	if f.JSON {
		_, err := t.out.Write(d.JSON)
		return err
	}
	files, err := d.Files("svg", "png")
	if err != nil {
		return err
	}
	paths, failed := report.WriteFiles(out, append(files, more...))
	_, _ = fmt.Fprint(t.out, d.Report.Text())
	if failed != nil {
		return notWritten(failed)
	}
	_, _ = tongue.Fprintf(t.out, "%s\nAssumptions and all cautions are in the report:\n", d.Report.CautionText())
	for _, p := range paths {
		if strings.HasPrefix(filepath.Base(p), "bought") {
			p += tongue.Say(" (the plan with all of this bought)")
		}
		_, _ = fmt.Fprintln(t.out, "  "+p)
	}
	return nil
}
