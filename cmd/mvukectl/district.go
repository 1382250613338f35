package main

import (
	"errors"
	"path/filepath"
	"strings"
	"time"

	"mvuke/app/work"
	"mvuke/model"
	"mvuke/sync/exchange"
)

// join is the clinic's side of joining a district: ask, read the answer, say whether the six words were alike.
func (t *tool) join(args []string) int {
	f := t.flags("join")
	dir := f.String("data", "", "data folder of the clinic")
	person := f.String("person", "", "name of the one in charge")
	to := f.String("to", "", "stick or folder to write the request to")
	from := f.String("from", "", "stick or folder with the office's answer")
	alike := f.Bool("alike", false, "the six words stand on the office's screen too: somebody compared them")
	unproven := f.Bool("unproven", false, "join without comparing: nothing goes out, and no word of the office counts, until somebody does")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	switch {
	case *alike && *unproven:
		return t.bad(wrong("alike-or"))
	case *to == "" && *from == "" && !*alike:
		return t.bad(wrong("join-how"))
	}
	d, err := t.acting(*dir, *person)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	switch {
	case *to != "":
		file, err := d.Ask(*to)
		if err != nil {
			return t.failed(err)
		}
		f.say("%s", t.words.Say("join.asked"))
		return t.print(map[string]any{"file": file})
	case *from == "":
		if err := d.ProveHere(); err != nil {
			return t.failed(err)
		}
		return t.print(map[string]any{"joined": true, "compared": true})
	}
	return t.answer(f, d, *from, *alike, *unproven)
}

// answer reads the office's answer; without a word on the comparison it only shows the words.
func (t *tool) answer(f *flags, d *work.Desk, from string, alike, unproven bool) int {
	in, err := d.BringIn(from)
	if err != nil {
		return t.failed(err)
	}
	var inv *exchange.Invitation
	for _, x := range in.Files {
		if x.Invited != nil {
			inv = x.Invited
		}
	}
	if inv == nil {
		return t.failed(errors.New(t.words.Say("join.no-answer")))
	}
	out := map[string]any{"district": inv.Name, "words": inv.Words, "joined": false}
	if !alike && !unproven {
		f.say("%s", t.words.Say("join.compare", inv.Name, inv.Words))
		return t.print(out)
	}
	if err := d.Accept(inv, alike); err != nil {
		return t.failed(err)
	}
	if _, err := d.BringIn(from); err != nil {
		return t.failed(err)
	}
	out["joined"], out["compared"] = true, alike
	return t.print(out)
}

// grant is the office's side: take in the clinics that ask on a stick, or say that the words of one were alike.
func (t *tool) grant(args []string) int {
	f := t.flags("grant")
	dir := f.String("data", "", "data folder of the office")
	person := f.String("person", "", "name of the officer")
	from := f.String("from", "", "stick or folder with requests; the answers are written there")
	code := f.String("code", "", "three letters that begin the clinic's pack numbers; left out: proposed from its name")
	alike := f.String("alike", "", "name of a clinic that joined: the six words stand on its screen too")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if (*from == "") == (*alike == "") {
		return t.bad(wrong("grant-how"))
	}
	d, err := t.acting(*dir, *person)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	if *alike != "" {
		s, err := d.OneSite(*alike)
		if err != nil {
			return t.bad(err)
		}
		if err := d.Prove(s.ID); err != nil {
			return t.failed(err)
		}
		f.say("%s", t.words.Say("join.noted", s.Name))
		return t.print(map[string]any{"site": s.Name, "compared": true})
	}
	asks, err := d.Applicants(*from)
	if err != nil {
		return t.failed(err)
	}
	if len(asks) == 0 {
		return t.failed(errors.New(t.words.Say("join.nobody-asks")))
	}
	if *code != "" && len(asks) > 1 {
		return t.bad(wrong("one-code"))
	}
	out := []map[string]any{}
	for _, a := range asks {
		c := a.Code
		if *code != "" {
			c = *code
		}
		words, err := d.TakeIn(a, c, *from)
		if err != nil {
			return t.failed(err)
		}
		f.say("%s", t.words.Say("join.compare", a.Name, words))
		out = append(out, map[string]any{"site": a.Name, "file": filepath.Base(a.File), "code": strings.ToUpper(c), "words": words})
	}
	return t.print(map[string]any{"taken": out})
}

// remove takes a device out of the district.
func (t *tool) remove(args []string) int {
	f := t.flags("remove")
	dir := f.String("data", "", "data folder")
	person := f.String("person", "", "name of the one in charge")
	site := f.String("site", "", "name of the device's site; left out: our own")
	device := f.String("device", "", "letters of the device, as roster shows them")
	since := f.String("since", "", "day from which it was not ours any more, such as 2027-03-19; left out: all that came in counts")
	reason := f.String("reason", "", "why: lost, stolen, broken, given away")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	var day time.Time
	if *since != "" {
		var err error
		if day, err = time.Parse(time.DateOnly, *since); err != nil {
			return t.bad(wrong("day", *since))
		}
	}
	d, err := t.acting(*dir, *person)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	s, err := d.OneSite(*site)
	if err != nil {
		return t.bad(err)
	}
	all, err := d.Devices()
	if err != nil {
		return t.failed(err)
	}
	for _, x := range all {
		if x.Site == s.ID && strings.EqualFold(x.Letter, *device) {
			if err := d.RemoveDevice(x.Stream, day, *reason); err != nil {
				return t.failed(err)
			}
			return t.print(map[string]any{"site": s.Name, "device": x.Letter, "removed": true})
		}
	}
	return t.bad(wrong("no-device", s.Name, *device))
}

// roster lists sites and devices.
func (t *tool) roster(args []string) int {
	f := t.flags("roster")
	dir := f.String("data", "", "data folder")
	d, code := t.onRegister(f, args, dir)
	if d == nil {
		return code
	}
	defer d.Close()
	sites, err := d.Sites()
	if err != nil {
		return t.failed(err)
	}
	devices, err := d.Devices()
	if err != nil {
		return t.failed(err)
	}
	out := []map[string]any{}
	for _, s := range sites {
		list := []map[string]any{}
		for _, x := range devices {
			if x.Site == s.ID {
				list = append(list, map[string]any{"letters": x.Letter, "last": x.Seq, "removed": x.Removed, "copied": x.Forked, "this": x.Own,
					"records": x.May&model.CapRecord != 0, "releases": x.May&model.CapRelease != 0, "manages": x.May&model.CapManage != 0})
			}
		}
		out = append(out, map[string]any{"site": s.Name, "code": s.Code, "own": s.Own, "office": s.Office, "unproven": s.Unproven, "devices": list})
	}
	return t.print(map[string]any{"sites": out})
}
