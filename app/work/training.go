package work

import (
	"slices"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// Training is what a person has practised, and who lets them act alone.
type Training struct {
	Lessons []string // codes of the lessons passed, each once
	Signed  model.ID // supervisor who signed off; zero: nobody
	By      string
}

// Training reads a person's.
func (d *Desk) Training(person model.ID) (t Training, err error) {
	err = d.read(func(src register.Source) {
		for _, v := range register.Of(src, model.Ref{Noun: model.NounPerson, ID: person}).Entries {
			if !src.Roster().Allows(v) {
				continue
			}
			switch b := v.Body(); b.Kind {
			case model.KindLesson:
				var l model.Lesson
				if b.Decode(&l) == nil && b.Person == person && !slices.Contains(t.Lessons, l.Code) { // one's own lessons only
					t.Lessons = append(t.Lessons, l.Code)
				}
			case model.KindSignedOff:
				if b.Person != person {
					t.Signed = b.Person
				}
			}
		}
	})
	if !t.Signed.IsZero() {
		t.By = d.Person(t.Signed).Name
	}
	return t, err
}

// PassLesson notes that a person passed a lesson.
func (d *Desk) PassLesson(person model.ID, code string, seed int64) error {
	if code == "" || len(d.Person(person).Roles) == 0 {
		return refuse("nobody")
	}
	_, err := d.sign(entry.Draft{Kind: model.KindLesson, Person: person, Payload: model.Lesson{Code: code, Seed: seed}, Targets: []model.Ref{{Noun: model.NounPerson, ID: person}}})
	return err
}

// SignOff lets a person act alone; only somebody else who is in charge, or an officer, can say so.
func (d *Desk) SignOff(person model.ID) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if person == d.acting {
		return refuse("own-sign-off")
	}
	if len(d.Person(person).Roles) == 0 { // unknown, or gone
		return refuse("nobody")
	}
	t, err := d.Training(person)
	if err != nil {
		return err
	}
	_, err = d.sign(entry.Draft{Kind: model.KindSignedOff, Payload: model.SignedOff{Lessons: int64(len(t.Lessons))}, Targets: []model.Ref{{Noun: model.NounPerson, ID: person}}})
	return err
}
