package main

import (
	"bytes"
	"fmt"
	"os"
	"strings"

	"github.com/alecthomas/kong"

	"drystalk/report"
	"drystalk/tongue"
)

// languageVariable is the environment variable that names a file of texts where the option does not.
const languageVariable = "DRYSTALK_LANGUAGE"

// largestLanguage is the largest file of texts that is read, bytes: some ten times the English one.
const largestLanguage = 8 << 20

// languageFlag lets the program speak another language.
type languageFlag struct {
	Language string `placeholder:"FILE" env:"DRYSTALK_LANGUAGE" help:"File of the program's texts in another language, as drystalk language lists them; what it lacks stays English."`
}

// languageOf returns the file of texts that a command line or the environment names; "" for English.
func languageOf(args []string) string {
	for i, a := range args {
		if file, ok := strings.CutPrefix(a, "--language="); ok {
			return file
		}
		if a == "--language" && i+1 < len(args) {
			return args[i+1]
		}
		if a == "--" {
			break
		}
	}
	return os.Getenv(languageVariable)
}

// speak makes the language of a command line the one in use. It comes before everything else, so that
// help and faults speak it too.
func speak(args []string) error {
	name := languageOf(args)
	if name == "" {
		tongue.Use(nil)
		return nil
	}
	l, err := readLanguage(name)
	if err != nil {
		return err
	}
	tongue.Use(l)
	return nil
}

func readLanguage(name string) (*tongue.Language, error) {
	data, err := readRegular(name, tongue.Say("file of texts"), largestLanguage)
	if err != nil {
		return nil, err
	}
	return tongue.Read(name, data)
}

// languageCmd lists the texts of the program, or those that a language lacks.
type languageCmd struct {
	File string `arg:"" optional:"" help:"File of texts to check; without one, all texts are listed as such a file."`
}

// Help says how a language is made.
func (*languageCmd) Help() string {
	return tongue.Say("Send the list to a file, state the tag of the language in it, write each text's translation behind it, and name the file by --language. What is empty stays English.")
}

// Run lists all texts, or checks a language.
func (c *languageCmd) Run(t terminal) error {
	if c.File == "" {
		_, err := t.out.Write(tongue.English)
		return err
	}
	l, err := readLanguage(c.File)
	if err != nil {
		return err
	}
	missing := l.Missing()
	all := tongue.Texts()
	_, _ = tongue.Fprintf(t.out, "%s has %s of %s texts; the others stay English.\n", c.File, report.Number(float64(all-len(missing))), report.Number(float64(all)))
	for _, text := range missing {
		_, _ = fmt.Fprintf(t.out, "  %q\n", text)
	}
	return nil
}

// parserTexts are the words of the command line's parser, as it prints them at the beginning of lines.
var parserTexts = []tongue.Text{"Usage: ", "Arguments:", "Flags:", "Commands:"}

// helpFlag is how the parser explains its own flag.
const helpFlag tongue.Text = "Show context-sensitive help."

// translated says the help of commands and flags in the language in use; their texts are the tags.
func translated(k *kong.Kong) error {
	return kong.Visit(k.Model, func(node kong.Visitable, next kong.Next) error {
		switch n := node.(type) {
		case *kong.Application:
			n.HelpFlag.Help = helpFlag.String()
		case *kong.Node:
			n.Help = said(n.Help)
		case *kong.Flag:
			n.Help = said(n.Help)
		case *kong.Value:
			n.Help = said(n.Help)
		}
		return next(nil)
	})
}

// said says a text that a tag holds.
func said(text string) string { return tongue.Say(tongue.Text(text)) }

// printHelp prints the parser's help with its own words in the language in use.
func printHelp(o kong.HelpOptions, c *kong.Context) error {
	to := c.Stdout
	var b bytes.Buffer
	c.Stdout = &b
	err := kong.DefaultHelpPrinter(o, c)
	c.Stdout = to
	lines := strings.SplitAfter(b.String(), "\n")
	for i, line := range lines {
		for _, t := range parserTexts {
			if rest, ok := strings.CutPrefix(line, string(t)); ok {
				lines[i] = t.String() + rest
			}
		}
	}
	if err == nil {
		_, err = fmt.Fprint(to, strings.Join(lines, ""))
	}
	return err
}
