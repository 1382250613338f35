package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"mvuke/app/home"
)

// words prints a key as 24 words for paper, or puts it back from them.
func (t *tool) keyWords(args []string) int {
	f := t.flags("words")
	dir := f.String("data", "", "data folder")
	key := f.String("key", home.SiteKey, "site: certifies devices of the clinic; root: speaks for the district")
	restore := f.Bool("restore", false, "read the words from standard input and put the key back")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *dir == "" {
		return t.bad(errors.New("write --data DIR"))
	}
	if *key != home.SiteKey && *key != home.RootKey {
		return t.bad(fmt.Errorf("there is no key called %q; there are site and root", *key))
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
		if d, err := openDesk(dir); err == nil { // a folder without its register takes any key
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
