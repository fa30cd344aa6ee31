package answers

import (
	"strconv"
	"strings"
)

// commandOf returns the command line that asks a question of a plan again: the plan with its
// changes, and every option that its numbers depend on, stated whether or not it is the
// default.
func commandOf(command string, c *Case, options any) string {
	words := append(append([]string{"drystalk", command}, planWords(c)...), seedWords(c)...)
	return line(append(words, flags(options)...))
}

// seedWords state the seed of all chance.
func seedWords(c *Case) []string { return flag("seed", strconv.FormatUint(c.Setup.Seed, 10)) }

// planWords name the plan: its file, and what was changed in it.
func planWords(c *Case) []string {
	words := append([]string{fileWord(c.File)}, waysWords(c)...)
	for _, change := range c.Changes {
		words = append(words, flag("with", change)...)
	}
	return words
}

// waysWords name the file of the ways of working.
func waysWords(c *Case) []string {
	if c.Ways == "" {
		return nil
	}
	return flag("ways", c.Ways)
}

// fileWord names a file so that no command line takes it for a flag.
func fileWord(name string) string {
	if strings.HasPrefix(name, "-") {
		return "./" + name
	}
	return name
}

// flags states the options of a question that its numbers depend on.
func flags(options any) []string {
	var words []string
	stated := map[string]bool{"": true}
	for _, o := range OptionsOf(options) {
		value := o.Value()
		stated[o.Flag] = value != ""
		switch {
		case o.Silent || value == "" || !stated[o.With]:
		case o.Switch:
			words = append(words, "--"+o.Flag)
		default:
			words = append(words, flag(o.Flag, value)...)
		}
	}
	return words
}

// flag states a flag; a value that begins with a dash would be taken for one unless joined to it.
func flag(name, value string) []string {
	if strings.HasPrefix(value, "-") {
		return []string{"--" + name + "=" + value}
	}
	return []string{"--" + name, value}
}

// line joins words into a command line.
func line(words []string) string {
	quoted := make([]string, len(words))
	for i, word := range words {
		quoted[i] = quote(word)
	}
	return strings.Join(quoted, " ")
}

// plainLetters need no quotes in a shell.
const plainLetters = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_=+./,:@%"

// quote writes a word so that a POSIX shell reads it back as it is: between single quotes
// nothing is special but the single quote itself (POSIX.1-2017, Shell Command Language, 2.2.2).
func quote(word string) string {
	if word != "" && strings.Trim(word, plainLetters) == "" {
		return word
	}
	return "'" + strings.ReplaceAll(word, "'", `'\''`) + "'"
}
