package main

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"

	"mvuke/app/demo"
	"mvuke/app/work"
	"mvuke/model"
)

// The judging cases of sticks and districts as scripts: several data folders and a folder that is the stick. mvukectl is the program itself; the other commands do what people do
// on a screen, and bend files as the world does.
func TestCases(t *testing.T) {
	t.Setenv("MVUKE_STATE", t.TempDir()) // what a machine remembers is told by the whole path of a folder: one place serves all scripts
	testscript.Run(t, testscript.Params{
		Dir:   "testdata/cases",
		Setup: func(e *testscript.Env) error { return setUpCase(e) },
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"act": act, "today": today, "state": state, "days": days, "clock": setClock, "copydir": copyDir, "cut": cut, "flip": flip, "grown": grown, "movebundle": moveBundle, "letters": letters, "keywords": keyWordsOnly,
		},
	})
}

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"mvukectl": func() {
		if at, err := time.Parse(time.RFC3339, os.Getenv("CASE_TIME")); err == nil { // the script's day
			clock = demo.NewClock(at)
		}
		os.Exit(run(os.Args[1:], os.Stdout, os.Stderr))
	}})
}

// clocks are the clocks of the machines of one script, by folder.
type clocks map[string]*demo.Clock

func setUpCase(e *testscript.Env) error {
	e.Setenv("MVUKE_STATE", os.Getenv("MVUKE_STATE"))
	e.Values["clocks"] = clocks{}
	return os.MkdirAll(filepath.Join(e.WorkDir, "stick"), 0o700)
}

func caseClock(ts *testscript.TestScript, dir string) *demo.Clock {
	all := ts.Value("clocks").(clocks)
	if all[""] == nil {
		all[""] = demo.NewClock(time.Date(2027, 3, 1, 7, 0, 0, 0, time.UTC))
	}
	if all[dir] == nil {
		all[dir] = all[""] // all agree, until one is set otherwise
	}
	return all[dir]
}

// at opens a folder as its people do, with the first of them acting.
func at(ts *testscript.TestScript, dir string) (*work.Desk, *demo.Clock) {
	clk := caseClock(ts, dir)
	d, err := work.Open(ts.MkAbs(dir), work.Options{Clock: clk})
	for range 40 { // a program that another script starts holds our lock for the moment between its fork and its exec
		var r *work.Refusal
		if !errors.As(err, &r) || r.Code != "already-open" {
			break
		}
		time.Sleep(50 * time.Millisecond)
		d, err = work.Open(ts.MkAbs(dir), work.Options{Clock: clk})
	}
	ts.Check(err)
	people, err := d.People()
	ts.Check(err)
	if len(people) > 0 {
		d.Act(people[0].ID)
	}
	return d, clk
}

// try checks an error, and with "!" that there is one.
func try(ts *testscript.TestScript, neg bool, err error) {
	switch {
	case neg && err == nil:
		ts.Fatalf("it was done, and must not be")
	case !neg:
		ts.Check(err)
	case err != nil:
		ts.Logf("refused: %v", err)
	}
}

// act does what a person does: "act DIR begin NAME HEIGHT", "... office NAME", "... load NAME PACKS", "... pack NAME", "... stop LOAD REASON", "... clear LOAD REASON", "... send PACK TO", "... use
// PACK NUMBER", "... aside PACK", "... person NAME", "... retire NAME", "... policy-not-known", "... date KNOWN". NAME keeps what was made under a name of the script.
func act(ts *testscript.TestScript, neg bool, args []string) {
	dir, what, rest := args[0], args[1], args[2:]
	d, clk := at(ts, dir)
	defer d.Close()
	defer func() { ts.Setenv("CASE_TIME", ts.Value("clocks").(clocks)[""].Wall.Format(time.RFC3339)) }()
	switch what {
	case "begin", "office":
		a := demo.Answers("en")
		a.Site.Name, a.Person.Name, a.Office = rest[0], "In charge at "+rest[0], what == "office"
		if what == "begin" {
			m, err := strconv.ParseInt(rest[1], 10, 64)
			ts.Check(err)
			a.Site.HeightM = m
		}
		ts.Check(d.SetUp(a))
		if what == "begin" {
			ts.Check(d.SetPolicy(model.Policy{Code: model.PolicyCommission, Source: "proven on paper before the register began"}))
		}
	case "load":
		load(ts, d, clk, rest[0], rest[1:])
	case "pack":
		_, n, err := d.MakePack(work.PackForm{Set: "delivery", Present: 6, Listed: 6, Wrap: model.WrapCloth, Tape: true, Strip: true})
		ts.Check(err)
		ts.Setenv(rest[0], n.Text)
	case "stop":
		try(ts, neg, d.Stop(named(ts, rest[0]), rest[1]))
	case "clear":
		try(ts, neg, d.ClearHold(model.Ref{Noun: model.NounCycle, ID: named(ts, rest[0])}, work.HoldStopped, rest[1]))
	case "send":
		try(ts, neg, d.MovePack(packNumbered(ts, d, rest[0]), model.PackMoved{What: model.MoveSent, To: rest[1]}))
	case "use":
		try(ts, neg, d.OpenPack(packNumbered(ts, d, rest[0]), work.UseForm{Outside: true, Strip: model.StripReached, Number: rest[1]}))
	case "aside":
		try(ts, neg, d.SetAside(packNumbered(ts, d, rest[0])))
	case "person":
		_, err := d.AddPerson(model.Person{Name: rest[0], Roles: []model.Role{model.RoleReleaser}, Language: "en"})
		try(ts, neg, err)
	case "retire":
		people, err := d.People()
		ts.Check(err)
		i := slices.IndexFunc(people, func(p work.Tile) bool { return p.Person.Name == rest[0] })
		ts.Check(d.RetirePerson(people[i].ID, "moved away"))
	case "tiles":
		people, err := d.People()
		ts.Check(err)
		got := slices.ContainsFunc(people, func(p work.Tile) bool { return !p.Gone && p.Person.Name == rest[0] })
		if got == neg {
			ts.Fatalf("%s on the tiles: %v", rest[0], got)
		}
	case "date":
		when, err := time.Parse(time.DateOnly, rest[0])
		ts.Check(err)
		try(ts, neg, d.AnswerDate(when.Add(9*time.Hour)))
	default:
		ts.Fatalf("nobody does %q", what)
	}
}

// load packs, burns, looks at and releases a good load: NAME is the load, NAME1, NAME2 ... its packs. With numbers of packs after the name these are put in; a single digit makes so many.
func load(ts *testscript.TestScript, d *work.Desk, clk *demo.Clock, name string, packs []string) {
	numbers := packs
	if n, err := strconv.Atoi(packs[0]); err == nil {
		numbers = nil
		for range n {
			_, made, err := d.MakePack(work.PackForm{Set: "delivery", Present: 6, Listed: 6, Wrap: model.WrapCloth, Tape: true, Strip: true})
			ts.Check(err)
			numbers = append(numbers, made.Text)
		}
	}
	in, err := d.LoadOf(numbers)
	ts.Check(err)
	id, err := demo.CycleWith(d, clk, demo.Burn{Packs: len(in), Strip: true}, in)
	ts.Check(err)
	checks, err := demo.GoodChecks(d, id)
	ts.Check(err)
	ts.Check(d.Unload(id, checks, true))
	ts.Check(d.Release(id, ""))
	ts.Setenv(name, id.String())
	caseIDs[id.String()] = id
	for i, n := range numbers {
		ts.Setenv(name+strconv.Itoa(i+1), n)
	}
}

// caseIDs are the loads of all scripts by their names: ids are random and never clash.
var caseIDs = map[string]model.ID{}

func named(ts *testscript.TestScript, text string) model.ID {
	id, ok := caseIDs[text]
	if !ok {
		ts.Fatalf("no load is called %q", text)
	}
	return id
}

func packNumbered(ts *testscript.TestScript, d *work.Desk, number string) model.ID {
	ids, err := d.ByNumber(number)
	ts.Check(err)
	if len(ids) != 1 {
		ts.Fatalf("%d packs have the number %s", len(ids), number)
	}
	return ids[0]
}

// today checks that a line stands on Today: "today DIR CODE"; with "!" that it does not.
func today(ts *testscript.TestScript, neg bool, args []string) {
	d, _ := at(ts, args[0])
	defer d.Close()
	lines, err := d.Today()
	ts.Check(err)
	if slices.ContainsFunc(lines, func(l work.Line) bool { return l.Code == args[1] }) == neg {
		ts.Fatalf("Today: %+v", lines)
	}
}

// state checks a pack's word on the shelf: "state DIR NUMBER WORD [SITE]"; a site says where it lies.
func state(ts *testscript.TestScript, neg bool, args []string) {
	d, _ := at(ts, args[0])
	defer d.Close()
	p, err := d.Pack(packNumbered(ts, d, args[1]))
	ts.Check(err)
	if (string(p.State) == args[2]) == neg {
		ts.Fatalf("%s is %s", args[1], p.State)
	}
	if len(args) > 3 {
		sites, err := d.Sites()
		ts.Check(err)
		i := slices.IndexFunc(sites, func(s work.SiteKnown) bool { return s.ID == p.At })
		if i < 0 || sites[i].Name != args[3] {
			ts.Fatalf("%s lies at %v", args[1], p.At)
		}
	}
}

// days lets time pass on all machines.
func days(ts *testscript.TestScript, _ bool, args []string) {
	n, err := strconv.Atoi(args[0])
	ts.Check(err)
	done := map[*demo.Clock]bool{}
	for _, c := range ts.Value("clocks").(clocks) {
		if !done[c] {
			done[c] = true
			c.Pass(time.Duration(n) * 24 * time.Hour)
		}
	}
}

// setClock starts a machine with another date: "clock DIR 2015-01-01", or so many days from now: "clock DIR +3".
func setClock(ts *testscript.TestScript, _ bool, args []string) {
	one := *caseClock(ts, args[0])
	c := &one
	ts.Value("clocks").(clocks)[args[0]] = c
	c.Reboot(time.Hour)
	if n, err := strconv.Atoi(args[1]); err == nil {
		c.Wall = c.Wall.AddDate(0, 0, n)
		return
	}
	when, err := time.Parse(time.DateOnly, args[1])
	ts.Check(err)
	c.Wall = when
}

// copyDir copies a folder, as a careful person does; the copy is another machine.
func copyDir(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.CopyFS(ts.MkAbs(args[1]), os.DirFS(ts.MkAbs(args[0]))))
	ts.Value("clocks").(clocks)[args[1]] = caseClock(ts, args[0])
}

func bundleIn(ts *testscript.TestScript, dir string) string {
	found, err := filepath.Glob(filepath.Join(ts.MkAbs(dir), "*.MVB"))
	ts.Check(err)
	if len(found) != 1 {
		ts.Fatalf("%d bundles in %s", len(found), dir)
	}
	return found[0]
}

// cut leaves so many per cent of the bundle in a folder: "cut DIR 60".
func cut(ts *testscript.TestScript, _ bool, args []string) {
	file := bundleIn(ts, args[0])
	n, err := strconv.Atoi(args[1])
	ts.Check(err)
	b, err := os.ReadFile(file)
	ts.Check(err)
	ts.Check(os.WriteFile(file, b[:len(b)*n/100], 0o600))
}

// flip turns one bit in the middle of the bundle in a folder.
func flip(ts *testscript.TestScript, _ bool, args []string) {
	file := bundleIn(ts, args[0])
	b, err := os.ReadFile(file)
	ts.Check(err)
	b[len(b)/2] ^= 4
	ts.Check(os.WriteFile(file, b, 0o600))
}

// grown checks that a register grew since it was last asked; with "!" that it did not.
func grown(ts *testscript.TestScript, neg bool, args []string) {
	d, _ := at(ts, args[0])
	defer d.Close()
	n, err := d.Store.Count()
	ts.Check(err)
	key := "count " + args[0]
	was, _ := strconv.ParseInt(ts.Getenv(key), 10, 64)
	ts.Setenv(key, strconv.FormatInt(n, 10))
	if (n > was) == neg {
		ts.Fatalf("%s held %d entries and holds %d", args[0], was, n)
	}
}

// moveBundle moves the bundle of a folder under another name.
func moveBundle(ts *testscript.TestScript, _ bool, args []string) {
	ts.Check(os.Rename(bundleIn(ts, args[0]), ts.MkAbs(args[1])))
}

// letters finds the letters of the other device of our own site: "letters DIR NAME".
func letters(ts *testscript.TestScript, _ bool, args []string) {
	d, _ := at(ts, args[0])
	defer d.Close()
	own, err := d.SiteID()
	ts.Check(err)
	all, err := d.Devices()
	ts.Check(err)
	for _, x := range all {
		if x.Site == own && !x.Own {
			ts.Setenv(args[1], x.Letter)
			return
		}
	}
	ts.Fatalf("there is no other device")
}

// keyWordsOnly takes the words out of what the command printed, as a person copies them: "keywords JSON FILE".
func keyWordsOnly(ts *testscript.TestScript, _ bool, args []string) {
	_, text, _ := strings.Cut(ts.ReadFile(args[0]), `"words": "`)
	text, _, _ = strings.Cut(text, `"`)
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), []byte(strings.ToUpper(text)), 0o600))
}
