package screens

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"

	"fyne.io/fyne/v2"

	"mvuke/app/tables"
	"mvuke/app/widgets"
	"mvuke/app/work"
	"mvuke/model"
)

// Lists writes the register's tables out, and takes in lists that a clinic has in a spreadsheet.
func Lists(s *Stage) fyne.CanvasObject {
	out := widgets.NewFlow(240, widgets.NewButton(s.Say("lists.book"), widgets.Do, func() {
		s.Write("mvuke.xlsx", func(w io.Writer) error { return tables.Workbook(w, s.Desk, tables.Exports) })
	}), widgets.NewButton(s.Say("lists.csv"), widgets.Plain, s.writeTables))
	body := []fyne.CanvasObject{widgets.NewStrong(s.Say("lists.out")), widgets.NewPara(s.Say("lists.out.how", s.PaperDir())), out,
		widgets.NewStrong(s.Say("lists.in")), widgets.NewPara(s.Say("lists.in.how", s.PaperDir()))}
	var names []string
	for _, k := range tables.Kinds {
		names = append(names, s.Say("lists."+k))
	}
	kind := widgets.NewChoice(names, -1, nil)
	body = append(body, kind)
	open := func(path string) {
		if kind.Selected < 0 {
			s.Message(s.Say("refuse.one", s.Say("lists.kind")))
			return
		}
		s.preview(tables.Kinds[kind.Selected], path)
	}
	found, err := filepath.Glob(filepath.Join(s.PaperDir(), "*.csv"))
	if err != nil {
		s.Note(err.Error())
	}
	for _, path := range found {
		body = append(body, widgets.NewRow(widgets.Square, widgets.Blue, s.Say("lists.file"), filepath.Base(path), s.Say("lists.look"), func() { open(path) }))
	}
	where := widgets.NewField(s.Say("lists.path"), "", nil)
	where.Entry.OnSubmitted = open
	body = append(body, where, widgets.NewButton(s.Say("lists.look"), widgets.Plain, func() { open(where.Text()) }))
	return Page(s.Say("lists.title"), "", body...)
}

func (s *Stage) writeTables() {
	var made string
	for _, name := range tables.Exports {
		var b bytes.Buffer
		err := tables.Export(&b, s.Desk, name)
		if err == nil {
			err = os.MkdirAll(s.PaperDir(), 0o700)
		}
		path := filepath.Join(s.PaperDir(), "mvuke-"+name+".csv")
		if err == nil {
			err = os.WriteFile(path, b.Bytes(), 0o600)
		}
		if err != nil {
			s.Message(s.Say("file.failed", err.Error()))
			return
		}
		made = path
	}
	s.Message(s.Say("lists.made", strconv.Itoa(len(tables.Exports)), filepath.Dir(made)))
}

// preview shows what would be taken in, line by line what cannot be, and takes all or nothing.
func (s *Stage) preview(kind, path string) {
	f, err := os.Open(path)
	if err != nil {
		s.Message(s.Say("file.failed", err.Error()))
		return
	}
	defer f.Close()
	lists, problems, err := tables.ReadList(kind, f, s.Words)
	if err == nil && len(problems) == 0 {
		err = s.Desk.CheckLists(lists)
	}
	back := widgets.NewButton(s.Say("do.back"), widgets.Plain, func() { s.Go(ToLists, model.ID{}) })
	body := []fyne.CanvasObject{widgets.NewStrong(filepath.Base(path))}
	switch {
	case err != nil:
		body = append(body, widgets.NewNotice(widgets.Vermilion, s.Fault(err), s.Say("bring.none-taken")), back)
	case len(problems) > 0:
		body = append(body, widgets.NewNotice(widgets.Vermilion, s.Words.Count("bring.problems", len(problems)), s.Say("bring.none-taken")), back)
		for _, p := range problems {
			body = append(body, widgets.NewPara(s.Say("bring.line", strconv.Itoa(p.Line), s.Say("bring."+p.Code, p.Args...))))
		}
	default:
		take := widgets.NewButton(s.Say("lists.take"), widgets.Do, func() {
			s.WithPerson(func() {
				if s.Tell(s.Desk.TakeLists(lists)) {
					s.Go(map[string]string{"sets": ToSets, "people": ToPeople, "stock": ToStock}[kind], model.ID{})
				}
			})
		})
		body = append(body, widgets.NewFlow(220, take, back))
		body = append(body, s.lines(lists)...)
	}
	s.Show(Page(s.Say("lists."+kind), "", body...))
}

func (s *Stage) lines(l work.Lists) (out []fyne.CanvasObject) {
	for _, x := range l.Sets {
		out = append(out, widgets.NewStrong(join(x.Name, s.Words.Count("sets.pieces", int(x.Total())))))
		for _, p := range x.Pieces {
			out = append(out, widgets.NewPara(fmt.Sprintf("– %d %s", p.Count, p.Name)))
		}
	}
	for _, p := range l.People {
		out = append(out, widgets.NewPara("– "+join(p.Name, s.Say("role."+string(role(p))))))
	}
	for _, t := range l.Stock {
		out = append(out, widgets.NewPara("– "+join(s.Say("stock."+string(t.What)), count(t.Amount))))
	}
	return out
}
