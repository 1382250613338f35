package main

import (
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"mvuke/app/work"
	"mvuke/sync/bundle"
)

// export takes out what a site lacks, into a folder or onto a stick.
func (t *tool) export(args []string) int {
	f := t.flags("export")
	dir := f.String("data", "", "data folder")
	to := f.String("to", "", "folder or stick to write to")
	site := f.String("site", "", "name of the receiving site; left out: another device of our own site")
	all := f.Bool("everything", false, "send all that is here, not only what they lack")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *to == "" {
		return t.bad(wrong("to"))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	x, err := d.OneSite(*site)
	if err != nil {
		return t.bad(err)
	}
	last := -1
	taken, err := d.TakeOut(x.ID, *to, *all, func(file string, step, done, all int) {
		if step != last {
			last = step
			f.say("%s: %s", file, t.words.Say("stick.step."+fmt.Sprint(step)))
		}
	})
	if err != nil {
		return t.failed(err)
	}
	name := x.Name
	if x.Own {
		name = t.words.Say("stick.own", x.Name)
	}
	f.say("%s %s. %s", t.words.Say("stick.to"), name, t.words.Say("stick.safe"))
	return t.print(map[string]any{"files": taken.Files, "acts": taken.Entries, "for": x.Name})
}

type broughtOut struct {
	File    string         `json:"file"`
	Verdict string         `json:"verdict"`
	New     map[string]int `json:"new,omitempty"`
	Had     int            `json:"had"`
	Waiting int            `json:"waiting"`
}

// worseOut is a clinic of which more is stopped since a stick.
type worseOut struct {
	Site  string       `json:"site"`
	Loads []stoppedOut `json:"loads"`
}

type stoppedOut struct {
	Load  int64    `json:"load"`
	Codes []string `json:"codes"`
}

// bring takes in what lies in a folder or on a stick. It ends with 1 where a file could not be taken; one that is locked to others is no fault.
func (t *tool) bring(args []string) int {
	f := t.flags("import")
	dir := f.String("data", "", "data folder")
	from := f.String("from", "", "folder or stick to read")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if *from == "" {
		return t.bad(wrong("from"))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	in, err := d.BringIn(*from)
	if err != nil {
		return t.failed(err)
	}
	out, bad := []broughtOut{}, false
	for _, x := range in.Files {
		o := broughtOut{filepath.Base(x.File), string(x.Verdict), map[string]int{}, x.Had, x.Waiting}
		for _, what := range work.Came {
			if n := x.Came(what); n > 0 {
				o.New[what] = n
			}
		}
		out = append(out, o)
		bad = bad || (x.Verdict != work.CarryNew && x.Verdict != work.CarryHave && x.Verdict != work.CarryOthers && x.Invited == nil)
		said := t.words.Say("carry."+o.Verdict) + ". " + t.words.Say("carry."+o.Verdict+".how")
		for _, what := range work.Came {
			if n := o.New[what]; n > 0 {
				said += " " + t.words.Count("came."+what, n) + "."
			}
		}
		f.say("%s: %s", o.File, said)
	}
	if len(in.Files) == 0 {
		f.say("%s", t.words.Say("stick.empty"))
	}
	if in.Stops() {
		head := "stick.stops"
		if in.OnlyWords() {
			head = "stick.words"
		}
		f.say("%s. %s", t.words.Say(head), t.words.Say(head+".how"))
	}
	worse := []worseOut{}
	for _, x := range in.Worse {
		f.say("%s", t.words.Say("stick.worse", x.Name))
		o := worseOut{Site: x.Name, Loads: []stoppedOut{}}
		for _, id := range x.Loads {
			c, err := d.Cycle(id)
			if err != nil {
				return t.bad(err)
			}
			codes, err := d.StopCodes(c)
			if err != nil {
				return t.bad(err)
			}
			o.Loads = append(o.Loads, stoppedOut{c.Begun.Number, codes})
			f.say("  %s: %s", t.words.Say("knot.cycle", strconv.FormatInt(c.Begun.Number, 10)), t.words.Each("hold.", codes))
		}
		worse = append(worse, o)
	}
	if in.Cut {
		f.say("%s", t.words.Say("stick.cut"))
	}
	if c := t.print(map[string]any{"files": out, "cut": in.Cut, "stops": in.Stops(), "worse": worse}); c != 0 {
		return c
	}
	if bad {
		return 1
	}
	return 0
}

// inspect says what anybody can see of a bundle, without a key.
func (t *tool) inspect(args []string) int {
	f := t.flags("inspect")
	f.word = true
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if len(f.rest) != 1 {
		return t.bad(wrong("one-file"))
	}
	file, err := os.Open(f.rest[0])
	if err != nil {
		return t.bad(err)
	}
	defer file.Close()
	fi, err := file.Stat()
	if err != nil {
		return t.failed(err)
	}
	p, err := bundle.Look(file, fi.Size())
	if code := bundle.CodeOf(err); code != "" {
		f.say("%s. %s", t.words.Say("carry."+string(code)), t.words.Say("carry."+string(code)+".how"))
		if c := t.print(map[string]any{"verdict": code}); c != 0 {
			return c
		}
		return 1
	}
	if err != nil {
		return t.failed(err)
	}
	return t.print(map[string]any{"verdict": "whole", "bundle": hex.EncodeToString(p.ID[:]), "part": p.Part, "of": p.Of, "recipients": len(p.Hints), "bytes": fi.Size(), "name": p.Name()})
}

// heads lists what the register holds: each stream with its last number and hash.
func (t *tool) heads(args []string) int {
	f := t.flags("heads")
	dir := f.String("data", "", "data folder")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	heads, err := d.Store.Heads()
	if err != nil {
		return t.failed(err)
	}
	waiting, err := d.Store.Waiting()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	for _, h := range heads {
		out = append(out, map[string]any{"stream": hex.EncodeToString(h.Stream[:]), "seq": h.Seq, "id": hex.EncodeToString(h.ID[:]), "forked": d.Store.Forked(h.Stream) > 0})
	}
	return t.print(map[string]any{"heads": out, "waiting": len(waiting)})
}
