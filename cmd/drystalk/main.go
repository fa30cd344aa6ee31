// Command drystalk tells how many dryers a region needs to keep a buyer supplied
// with dry stalks through the rains, and with what odds.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"os/signal"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"syscall"

	"drystalk/scenarios"
	"drystalk/scenarios/tally"
	"drystalk/sim/answers"
	"drystalk/tongue"

	"github.com/alecthomas/kong"
)

// largestScenario is the largest scenario or climate file that is read, bytes.
const largestScenario = 1 << 20

// version of the program.
const version = "0.15.0"

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2 // a wrong command line or scenario
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	go func() {
		<-ctx.Done()
		stop() // a second Ctrl-C ends the program at once
	}()
	code := run(ctx, os.Args[1:], os.Stdout, os.Stderr)
	os.Exit(code)
}

// commands are all commands of the program.
type commands struct {
	Dryers   dryersCmd   `cmd:"" help:"How many dryers does the region need, and where?"`
	Odds     oddsCmd     `cmd:"" help:"With what odds does the plan as written meet each month?"`
	Compare  compareCmd  `cmd:"" help:"What does a second plan do that the first does not, and does it pay?"`
	Promise  promiseCmd  `cmd:"" help:"Which contract can the plan as written safely promise?"`
	Spend    spendCmd    `cmd:"" help:"With this budget, what do we buy first?"`
	Ways     waysCmd     `cmd:"" help:"Which changes of working, at no price or nearly none, meet the contract more often?"`
	Ahead    aheadCmd    `cmd:"" help:"From today's stock: will the months to come be met, and what helps?"`
	Season   seasonCmd   `cmd:"" help:"One season of the plan as written, month by month."`
	Study    studyCmd    `cmd:"" help:"For researchers: many seasons of many plans, as tables for other programs."`
	Page     pageCmd     `cmd:"" help:"The local web page: change a plan in number fields and see the answers."`
	Charge   chargeCmd   `cmd:"" help:"One load of a dryer: hours, wood, course of moisture."`
	Fit      fitCmd      `cmd:"" help:"Fit parts of the model to records of your own: a station's weather, loads of the dryer."`
	Check    checkCmd    `cmd:"" help:"Check a scenario file and show what stands behind it."`
	Language languageCmd `cmd:"" name:"language" help:"All texts of the program, to say them in another language, or what a language lacks."`

	Version kong.VersionFlag `help:"Print the version."`
	languageFlag
	Licences licencesFlag `help:"Print the licences of what the program is made of."`
}

// terminal is where a command writes.
type terminal struct {
	ctx context.Context
	out io.Writer // results
	err io.Writer // messages and progress
}

// scenarioFlags are shared by the commands that run a scenario.
type scenarioFlags struct {
	Scenario string `arg:"" optional:"" help:"Scenario file, or the name of a demo: lake-tavari (the default), one-cooperative."`
	JSON     bool   `name:"json" help:"Print the answer as JSON and nothing else."`
	Seed     uint64 `default:"1" help:"Seed of all chance."`
}

// waysFlag lets the plan work in the ways of a file.
type waysFlag struct {
	Ways string `help:"File of better ways of working, as drystalk ways writes it: the plan works so."`
}

// withFlag changes the plan as written, for the commands that run it.
type withFlag struct {
	waysFlag
	With []string `sep:"none" help:"Change the plan as written, such as 'Heron Point: dryers=2'; may be repeated."`
}

// plan is the scenario that a command asks its question of, changed as asked for.
type plan struct {
	scenarioFlags
	withFlag
}

// loaded reads the scenario of the flags and changes it.
func (f *plan) loaded(t terminal) (*scenarios.Scenario, error) {
	s, err := f.changed(t)
	if err != nil {
		return nil, err
	}
	return s, tongue.WriteNumbersAsIn(s.NumbersAsIn)
}

// changed reads the scenario of the flags and changes it as they say.
func (f *plan) changed(t terminal) (*scenarios.Scenario, error) {
	s, err := f.load(t)
	if err == nil {
		s, err = f.working(s)
	}
	if err != nil || len(f.With) == 0 {
		return s, err
	}
	if s, err = s.With(f.With); err != nil {
		return nil, usageError{err}
	}
	return s, nil
}

// outFlag is shared by the commands that write a report.
type outFlag struct {
	Out string `default:"out" help:"Folder for the report and its charts."`
}

// usageError is a fault of the command line or of a file: exit code 2.
type usageError struct{ error }

func usagef(format string, args ...any) error { return usageError{tongue.Errorf(format, args...)} }

// run parses the arguments, runs a command and returns the exit code. An answer that could not be
// written to the output is a failure, whatever the command says.
func run(ctx context.Context, args []string, out, errOut io.Writer) int {
	results := &checked{to: out}
	code := exitFailed
	err := safely(func() error {
		code = command(ctx, args, results, errOut)
		return nil
	})
	if err == nil && code == exitDone {
		err = results.failed()
	}
	if err != nil {
		return explain(err, errOut)
	}
	return code
}

// command parses the arguments, runs a command and returns the exit code.
func command(ctx context.Context, args []string, out, errOut io.Writer) int {
	if err := speak(args); err != nil {
		return explain(err, errOut)
	}
	var c commands
	exited := -1
	parser, err := kong.New(&c,
		kong.Name("drystalk"),
		kong.Description(tongue.Say("Can the region keep the buyer supplied with dry stalks through the rains, and what does it take? Start with: drystalk dryers")),
		kong.Vars{"version": version},
		kong.Writers(out, errOut),
		kong.Exit(func(code int) { exited = code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.Help(printHelp), kong.PostBuild(translated),
		kong.TypeMapper(reflect.TypeFor[[]float64](), kong.MapperFunc(listOfNumbers)),
		kong.KindMapper(reflect.Uint64, kong.MapperFunc(wholeFromNothing)),
		kong.KindMapper(reflect.Int, kong.MapperFunc(whole)), kong.KindMapper(reflect.Float64, kong.MapperFunc(number)),
		kong.Bind(terminal{ctx, out, errOut}),
	)
	if err != nil {
		panic(err) // the commands are part of the program
	}
	if len(args) == 0 {
		args = []string{"--help"}
	}
	parsed, err := parser.Parse(args)
	if exited >= 0 {
		return exited
	}
	var fault answers.Fault
	if errors.As(err, &fault) {
		return explain(fault, errOut)
	}
	if err != nil {
		_, _ = tongue.Fprintf(errOut, "error: %v\nhint: drystalk --help lists the commands\n", err)
		return exitUsage
	}
	return explain(interruptible(ctx, func() error { return parsed.Run() }), errOut)
}

// listOfNumbers reads a list of numbers of the command line; an option that is repeated adds to it.
func listOfNumbers(of *kong.DecodeContext, target reflect.Value) error {
	var text string
	if err := of.Scan.PopValueInto("number", &text); err != nil {
		return err
	}
	list, err := answers.ReadList(of.Value.Name, text)
	if err == nil {
		target.Set(reflect.AppendSlice(target, reflect.ValueOf(list)))
	}
	return err
}

// wholeFromNothing reads a whole number of the command line that is not below 0.
func wholeFromNothing(of *kong.DecodeContext, target reflect.Value) error {
	text, found := numberText(of)
	n, err := strconv.ParseUint(text, 10, 64)
	if err != nil {
		return answers.Fault{Option: of.Value.Name, What: tongue.Plainf("found %s, allowed: a whole number from 0", found)}
	}
	target.SetUint(n)
	return nil
}

// whole reads a whole number of the command line. Whether it is too small or too large its option says.
func whole(of *kong.DecodeContext, target reflect.Value) error {
	text, found := numberText(of)
	n, err := strconv.Atoi(text)
	if err != nil {
		return answers.Fault{Option: of.Value.Name, What: tongue.Plainf("found %s, allowed: a whole number in digits alone, such as 1000", found)}
	}
	target.SetInt(int64(n))
	return nil
}

// number reads a number of the command line.
func number(of *kong.DecodeContext, target reflect.Value) error {
	text, found := numberText(of)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return answers.Fault{Option: of.Value.Name, What: tongue.Plainf("found %s, allowed: a number with a point before its decimals, such as 5500 or 0.5", found)}
	}
	target.SetFloat(x)
	return nil
}

// numberText takes the text of a number from the command line and says what was found. A number with a
// minus is taken for a number, not for another option.
func numberText(of *kong.DecodeContext) (text, found string) {
	next := of.Scan.Peek()
	if next.IsEOL() || strings.HasPrefix(next.String(), "--") {
		return "", tongue.Say("nothing")
	}
	text = of.Scan.Pop().String()
	return text, strconv.Quote(text)
}

// explain prints an error and returns the exit code.
func explain(err error, errOut io.Writer) int {
	var usage usageError
	var fault answers.Fault
	var faults scenarios.Faults
	var ofTable tally.Faults
	var ofTexts tongue.Faults
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &faults):
		for _, line := range strings.Split(faults.Error(), "\n") {
			_, _ = fmt.Fprintln(errOut, tongue.Sayf("error: %s", line))
		}
		return exitUsage
	case errors.As(err, &ofTable):
		for _, line := range strings.Split(ofTable.Error(), "\n") {
			_, _ = fmt.Fprintln(errOut, tongue.Sayf("error: %s", line))
		}
		return exitUsage
	case errors.As(err, &ofTexts):
		for _, line := range strings.Split(ofTexts.Error(), "\n") {
			_, _ = fmt.Fprintln(errOut, tongue.Sayf("error: %s", line))
		}
		return exitUsage
	case errors.As(err, &usage), errors.As(err, &fault):
		_, _ = fmt.Fprintln(errOut, tongue.Sayf("error: %s", err.Error()))
		return exitUsage
	case errors.Is(err, errStopped):
		_, _ = fmt.Fprintln(errOut, err.Error())
		return exitFailed
	case errors.Is(err, context.Canceled):
		_, _ = fmt.Fprintln(errOut, tongue.Say("stopped; nothing was written"))
		return exitFailed
	}
	_, _ = fmt.Fprintln(errOut, tongue.Sayf("error: %s", err.Error()))
	return exitFailed
}

// load reads the scenario of the flags and prints its warnings.
func (f *scenarioFlags) load(t terminal) (*scenarios.Scenario, error) {
	s, err := f.read()
	if err != nil {
		return nil, err
	}
	for _, w := range s.Warnings {
		_, _ = fmt.Fprintln(t.err, tongue.Sayf("warning: %s", w))
	}
	return s, nil
}

func (f *scenarioFlags) read() (*scenarios.Scenario, error) {
	name := f.Scenario
	if name == "" {
		name = scenarios.LakeTavari
	}
	if name == scenarios.LakeTavari || name == scenarios.OneCooperative {
		return scenarios.Demo(name)
	}
	if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) {
		return nil, usagef("%s: no such scenario file or demo; the demos are %s and %s", name, scenarios.LakeTavari, scenarios.OneCooperative)
	}
	data, err := readRegular(name, tongue.Say("scenario file"), largestScenario)
	if err != nil {
		return nil, err
	}
	return scenarios.ReadWith(name, data, readBeside(filepath.Dir(name)))
}

// few warns of numbers of seasons that answer badly.
func few(t terminal, seasons int) {
	if seasons < answers.EnoughSeasons {
		_, _ = tongue.Fprintf(t.err, "warning: with fewer than %d seasons the intervals of means are too narrow\n", answers.EnoughSeasons)
	}
}
