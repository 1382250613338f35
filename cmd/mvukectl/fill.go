package main

import (
	"errors"
	"fmt"
	"os"
	"strings"

	"mvuke/app/tables"
	"mvuke/app/work"
)

// fill takes a list in from CSV. Every line that cannot be taken is named, and then nothing is.
func (t *tool) fill(args []string) int {
	f := t.flags("fill")
	f.word = true
	dir := f.String("data", "", "data folder")
	person := f.String("person", "", "name of the one in charge who answers for it")
	dry := f.Bool("dry-run", false, "read and say what would be taken; write nothing")
	if err := f.parse(args); err != nil {
		return t.code(err)
	}
	if len(f.rest) != 2 {
		return t.bad(wrong("list-kind", strings.Join(tables.Kinds, ", ")))
	}
	file, err := os.Open(f.rest[1])
	if err != nil {
		return t.bad(wrong("list-unopened", err.Error()))
	}
	defer file.Close()
	lists, problems, err := tables.ReadList(f.rest[0], file, t.words)
	if err != nil {
		return t.bad(err)
	}
	for _, p := range problems {
		fmt.Fprintln(t.err, t.words.Say("bring.line", fmt.Sprint(p.Line), t.words.Say("bring."+p.Code, p.Args...)))
	}
	if len(problems) > 0 {
		return t.bad(errors.New(t.words.Say("bring.none-taken")))
	}
	d, err := openDesk(*dir)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	said := map[string]any{"sets": len(lists.Sets), "people": len(lists.People), "stock": len(lists.Stock), "taken": !*dry}
	if *dry {
		if err := d.CheckLists(lists); err != nil {
			return t.bad(err)
		}
		return t.print(said)
	}
	if err := t.actAs(d, *person); err != nil {
		return t.bad(err)
	}
	if err := d.TakeLists(lists); err != nil {
		return t.bad(err)
	}
	return t.print(said)
}

// actAs lets a person of the register answer for what follows.
func (t *tool) actAs(d *work.Desk, name string) error {
	if name == "" {
		return wrong("person")
	}
	people, err := d.People()
	if err != nil {
		return err
	}
	for _, p := range people {
		if !p.Gone && strings.EqualFold(p.Person.Name, name) {
			d.Act(p.ID)
			return nil
		}
	}
	return wrong("nobody", name)
}
