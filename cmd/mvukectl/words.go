package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"mvuke/app/home"
	"mvuke/model/store"
)

// words prints a key as 24 words for paper, or puts it back from them.
func (t *tool) keyWords(args []string) int {
	f := t.flags("words")
	dir := f.String("data", "", "data folder")
	key := f.String("key", home.SiteKey, "site: certifies devices of the clinic; root: speaks for the district")
	person := f.String("person", "", "with --replace: name of the one in charge")
	replace := f.Bool("replace", false, "make a new root key, name it with the old one, and print its words; the old words open nothing any more")
	restore := f.Bool("restore", false, "read the words from standard input and put the key back")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *dir == "" {
		return t.bad(wrong("data"))
	}
	if *key != home.SiteKey && *key != home.RootKey {
		return t.bad(wrong("no-key", *key))
	}
	if *replace {
		if *key != home.RootKey || *restore {
			return t.bad(wrong("replace"))
		}
		d, err := t.acting(*dir, *person)
		if err != nil {
			return t.bad(err)
		}
		if err := errors.Join(d.ReplaceRoot(), d.Close()); err != nil {
			return t.failed(err)
		}
		f.say("%s", t.words.Say("words.replaced"))
	}
	if *restore {
		return t.restoreKey(f, *dir, *key, os.Stdin)
	}
	list, err := home.WordsOfKey(home.Disk{}, *dir, *key)
	if err != nil {
		return t.failed(fmt.Errorf("%s: %w", t.words.Say("words.none"), err))
	}
	f.say("%s", t.words.Say("words.how"))
	return t.print(map[string]any{"key": *key, "words": strings.Join(list, " ")})
}

func (t *tool) restoreKey(f *flags, dir, key string, in io.Reader) int {
	text, err := io.ReadAll(io.LimitReader(in, 4096))
	if err != nil {
		return t.failed(err)
	}
	if pub, err := home.KeyOfWords(string(text)); err == nil {
		if _, none := os.Stat(filepath.Join(dir, store.RegisterFile)); none == nil { // a folder without its register takes any key
			d, err := openDesk(dir)
			if err != nil {
				return t.failed(fmt.Errorf("%s (%w)", t.words.Say("words.no-register-open"), err))
			}
			fits, err := d.KeyFits(key, pub)
			if e := d.Close(); e != nil || err != nil {
				return t.failed(errors.Join(err, e))
			}
			if !fits {
				return t.failed(errors.New(t.words.Say("words.elsewhere")))
			}
		}
	}
	switch err := home.KeyFromWords(home.Disk{}, dir, key, string(text)); {
	case errors.Is(err, home.ErrWords):
		return t.bad(errors.New(t.words.Say("words.wrong")))
	case errors.Is(err, home.ErrOtherKey):
		return t.failed(errors.New(t.words.Say("words.other")))
	case err != nil:
		return t.failed(err)
	}
	f.say("%s", t.words.Say("words.back"))
	return t.print(map[string]any{"key": key, "restored": true})
}
