package main

import (
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"slices"
	"strings"

	"mvuke/assets"
	"mvuke/model"
	"mvuke/steam"
)

// errHelp says that help was asked for and given.
var errHelp = errors.New("help")

// flags is a flag set that also takes what stands before the flags ("assess LOG.csv --unit kPa").
type flags struct {
	*flag.FlagSet
	t    *tool
	json bool
	lang string
	rest []string
	word bool // takes words that are no flags
}

func (t *tool) flags(name string) *flags {
	f := &flags{FlagSet: flag.NewFlagSet(name, flag.ContinueOnError), t: t}
	f.SetOutput(t.err)
	f.BoolVar(&f.json, "json", false, "only JSON, no words for people")
	f.StringVar(&f.lang, "lang", assets.Fallback, "language of the sentences: "+strings.Join(assets.Languages(), ", "))
	f.Usage = func() {
		c := commandOf(name)
		fmt.Fprintf(t.err, "%s\nExample: %s\n", c.usage, c.example)
		f.PrintDefaults()
	}
	return f
}

// parse reads flags wherever they stand; what is no flag is kept in rest.
func (f *flags) parse(args []string) error {
	for len(args) > 0 {
		if err := f.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				return errHelp
			}
			return errSaid
		}
		if args = f.Args(); len(args) > 0 {
			f.rest, args = append(f.rest, args[0]), args[1:]
		}
	}
	if !f.word && len(f.rest) > 0 {
		return wrong("alone", f.rest[0], f.Name(), commandOf(f.Name()).example)
	}
	if !slices.Contains(assets.Languages(), f.lang) {
		return wrong("language", f.lang, strings.Join(assets.Languages(), ", "))
	}
	f.t.words = assets.For(f.lang)
	return nil
}

func commandOf(name string) command {
	all := commands()
	return all[slices.IndexFunc(all, func(c command) bool { return c.name == name })]
}

// errSaid is an error that the flag package has already put into words.
var errSaid = errors.New("said")

// code turns a parse error into an exit code.
func (t *tool) code(err error) int {
	switch {
	case errors.Is(err, errHelp):
		return 0
	case errors.Is(err, errSaid):
		return 2
	}
	return t.bad(err)
}

func (t *tool) print(v any) int {
	e := json.NewEncoder(t.out)
	e.SetIndent("", "  ")
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		return t.failed(err)
	}
	return 0
}

// say writes words for people, unless only JSON was asked for.
func (f *flags) say(format string, args ...any) {
	if !f.json {
		fmt.Fprintf(f.t.err, format+"\n", args...)
	}
}

// number is an optional figure: comma or point.
type number struct {
	v   float64
	set bool
}

func (n *number) String() string { return "" }
func (n *number) Set(s string) (err error) {
	n.v, err = steam.Number(s)
	n.set = err == nil
	return err
}

func parseItem(s string) (model.Item, error) {
	switch i := model.Item(s); i {
	case model.Wrapped, model.Unwrapped:
		return i, nil
	}
	return "", wrong("item", s)
}
