package work

import (
	"slices"
	"strings"

	"mvuke/model"
	"mvuke/model/entry"
)

// Lists are what a clinic had on paper or in a spreadsheet before: set lists, people, counts of the stock.
type Lists struct {
	Sets   []model.SetList
	People []model.Person
	Stock  []model.StockTold
}

// Empty says that there is nothing in them.
func (l Lists) Empty() bool { return len(l.Sets)+len(l.People)+len(l.Stock) == 0 }

// CheckLists says what of them is here already: nothing is written over.
func (d *Desk) CheckLists(l Lists) error {
	sets, err := d.Sets()
	if err != nil {
		return err
	}
	for _, x := range l.Sets {
		if slices.ContainsFunc(sets, func(s Set) bool { return strings.EqualFold(s.List.Name, x.Name) }) {
			return refuse("bring.set-there", x.Name)
		}
	}
	people, err := d.People()
	if err != nil {
		return err
	}
	for _, x := range l.People {
		if slices.ContainsFunc(people, func(t Tile) bool { return !t.Gone && strings.EqualFold(t.Person.Name, x.Name) }) {
			return refuse("bring.person-there", x.Name)
		}
	}
	return nil
}

// TakeLists signs them in one go: all are kept, or none.
func (d *Desk) TakeLists(l Lists) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if l.Empty() {
		return refuse("bring.nothing")
	}
	if err := d.CheckLists(l); err != nil {
		return err
	}
	p, err := d.Place()
	if err != nil {
		return err
	}
	var drafts []entry.Draft
	add := func(kind model.Kind, ref model.Ref, payload any) {
		drafts = append(drafts, entry.Draft{Kind: kind, Targets: []model.Ref{ref}, Payload: payload})
	}
	for _, s := range l.Sets {
		add(model.KindSetList, model.Ref{Noun: model.NounSet, ID: d.NewID()}, s)
	}
	for _, x := range l.People {
		add(model.KindPerson, model.Ref{Noun: model.NounPerson, ID: d.NewID()}, x)
	}
	for _, t := range l.Stock {
		t.At = d.Clock.Now().Wall.UnixMilli()
		add(model.KindStock, model.Ref{Noun: model.NounSite, ID: p.ID}, t)
	}
	_, err = d.sign(drafts...)
	return err
}
