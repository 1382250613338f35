package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"time"

	"mvuke/app/paper"
	"mvuke/app/work"
	"mvuke/model"
)

// sheetFlags are those of all sheets.
type sheetFlags struct {
	*flags
	data, out, size, item, cycle string
}

func (t *tool) sheetFlags(name string, args []string) (s *sheetFlags, err error) {
	s = &sheetFlags{flags: t.flags(name)}
	s.StringVar(&s.data, "data", "", "data folder")
	s.StringVar(&s.out, "out", name+".pdf", "file to write")
	s.StringVar(&s.size, "paper", "A4", "A4 or A5")
	s.StringVar(&s.item, "item", "wrapped", "wrapped or unwrapped")
	if name == "sheet" {
		s.StringVar(&s.cycle, "cycle", "", "number of a cycle; left out: a blank log sheet")
	}
	return s, s.parse(args)
}

// cardFor gathers what the sheets of a pot print. number 0: no card is recorded.
func cardFor(d *work.Desk, item model.Item, record bool) (paper.Card, error) {
	p, err := d.Place()
	if err != nil {
		return paper.Card{}, err
	}
	if len(p.Pots) == 0 {
		return paper.Card{}, wrong("not-set-up")
	}
	pot := p.Pots[0]
	c := paper.Card{Site: p.Site, Pot: pot.Looks, Gauge: pot.Gauge, Item: item, Made: d.Clock.Now().Wall}
	planned, err := d.Plan(pot, p.Site, item, nil)
	if err != nil {
		return c, err
	}
	if record {
		made, again, err := d.MakeCard(pot, p.Site, item)
		if err != nil {
			return c, err
		}
		planned, c.Number, c.Void = again, made.Number, time.UnixMilli(made.VoidAfter)
	}
	if planned.Plan.Refused != nil {
		return c, wrong("no-mark")
	}
	c.Plan, c.Allow, c.AskMinutes = planned.Frozen, planned.Plan.Allowances, planned.Rules.Value(model.PolicyAskEvery)
	return c, nil
}

func (t *tool) potSheet(name string, args []string, record bool, draw func(io.Writer, paper.Size, paper.Card) error) int {
	s, err := t.sheetFlags(name, args)
	if err != nil {
		return t.code(err)
	}
	size, err := paper.ParseSize(s.size)
	if err != nil {
		return t.bad(err)
	}
	item, err := parseItem(s.item)
	if err != nil {
		return t.bad(err)
	}
	d, err := openDesk(s.data)
	if err != nil {
		return t.bad(err)
	}
	defer d.Close()
	if s.cycle != "" {
		return t.cycleSheet(d, s, size)
	}
	c, err := cardFor(d, item, record)
	if err != nil {
		return t.failed(err)
	}
	return t.write(s.flags, s.out, func(w io.Writer) error { return draw(w, size, c) })
}

func (t *tool) card(args []string) int {
	return t.potSheet("card", args, true, func(w io.Writer, s paper.Size, c paper.Card) error { return paper.WallCard(w, t.words, s, c) })
}

func (t *tool) slip(args []string) int {
	return t.potSheet("slip", args, false, func(w io.Writer, s paper.Size, c paper.Card) error { return paper.Slip(w, t.words, s, c) })
}

func (t *tool) sheet(args []string) int {
	return t.potSheet("sheet", args, false, func(w io.Writer, s paper.Size, c paper.Card) error { return paper.LogSheet(w, t.words, s, c) })
}

func (t *tool) cycleSheet(d *work.Desk, s *sheetFlags, size paper.Size) int {
	n, err := strconv.ParseInt(s.cycle, 10, 64)
	if err != nil {
		return t.bad(wrong("cycle-number", s.cycle))
	}
	ids, err := d.LatestCycles(100000)
	if err != nil {
		return t.failed(err)
	}
	for _, id := range ids {
		c, err := d.Cycle(id)
		if err != nil {
			return t.failed(err)
		}
		if c.Begun.Number == n {
			told, err := paper.Tell(d, c, t.words)
			if err != nil {
				return t.failed(err)
			}
			return t.write(s.flags, s.out, func(w io.Writer) error { return paper.CycleSheet(w, t.words, size, told) })
		}
	}
	return t.bad(wrong("no-cycle", fmt.Sprint(n)))
}

func (t *tool) write(f *flags, path string, draw func(io.Writer) error) int {
	if err := writeSheet(path, draw); err != nil {
		return t.failed(err)
	}
	f.say("%s", t.words.Say("file.made", path))
	return t.print(map[string]any{"file": path})
}

func writeSheet(path string, draw func(io.Writer) error) error {
	var b bytes.Buffer
	if err := draw(&b); err != nil {
		return err
	}
	return os.WriteFile(path, b.Bytes(), 0o644)
}

// demoSheets writes every sheet of the demo clinic into a folder.
func (t *tool) demoSheets(d *work.Desk, dir string) (made []string, err error) {
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	c, err := cardFor(d, model.Wrapped, true)
	if err != nil {
		return nil, err
	}
	ids, err := d.LatestCycles(2)
	if err != nil || len(ids) < 2 {
		return nil, errors.Join(err, errors.New("the demo has no finished cycle"))
	}
	cycle, err := d.Cycle(ids[1])
	if err != nil {
		return nil, err
	}
	told, err := paper.Tell(d, cycle, t.words)
	if err != nil {
		return nil, err
	}
	for name, draw := range map[string]func(io.Writer) error{
		"wall-card.pdf":   func(w io.Writer) error { return paper.WallCard(w, t.words, paper.A4, c) },
		"slip.pdf":        func(w io.Writer) error { return paper.Slip(w, t.words, paper.A4, c) },
		"log-sheet.pdf":   func(w io.Writer) error { return paper.LogSheet(w, t.words, paper.A4, c) },
		"cycle-sheet.pdf": func(w io.Writer) error { return paper.CycleSheet(w, t.words, paper.A4, told) },
	} {
		path := filepath.Join(dir, name)
		if err := writeSheet(path, draw); err != nil {
			return made, err
		}
		made = append(made, path)
	}
	return made, nil
}
