package work

import (
	"crypto/subtle"
	"strings"
	"unicode"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// A PIN tells who tapped a name: it is for attribution, not a lock. Four figures are guessed by whoever holds the device and has time; the
// disk's own encryption keeps strangers out. Nobody is asked for one while a pot is lit.

// PIN lengths.
const (
	ShortestPIN = 4
	LongestPIN  = 8
)

// SetPIN gives a person a PIN, or takes it away with "". Everybody may for themselves; for others, who forgot theirs, the one in charge.
func (d *Desk) SetPIN(person model.ID, pin string) error {
	if person != d.acting {
		if err := d.mayManage(); err != nil {
			return err
		}
	}
	pin = strings.TrimSpace(pin)
	if n := len(pin); pin != "" && (n < ShortestPIN || n > LongestPIN || strings.ContainsFunc(pin, func(r rune) bool { return !unicode.IsDigit(r) })) {
		return refuse("pin-form")
	}
	p := d.Person(person)
	if p.Name == "" {
		return refuse("person-name")
	}
	p.PIN = nil
	if pin != "" {
		var salt [16]byte
		if _, err := d.rnd.Read(salt[:]); err != nil {
			return err
		}
		sum, err := home.PINHash(salt[:], pin)
		if err != nil {
			return err
		}
		p.PIN = append(salt[:], sum...)
	}
	dr := entry.Draft{Kind: model.KindPerson, Payload: p, Targets: []model.Ref{{Noun: model.NounPerson, ID: person}}}
	if err := d.read(func(src register.Source) { dr.Replaces = d.values(src, dr.Targets[0], model.KindPerson) }); err != nil {
		return err
	}
	_, err := d.sign(dr)
	return err
}

// NeedsPIN says whether a person who taps their name is asked for a PIN: never while a pot is lit.
func (d *Desk) NeedsPIN(person model.ID) bool {
	if len(d.Person(person).PIN) == 0 {
		return false
	}
	lit, err := d.UnderWay()
	return err == nil && lit == nil
}

// TryPIN says whether a PIN is a person's.
func (d *Desk) TryPIN(person model.ID, pin string) error {
	have := d.Person(person).PIN
	if len(have) < 17 {
		return nil
	}
	sum, err := home.PINHash(have[:16], strings.TrimSpace(pin))
	if err != nil {
		return err
	}
	if subtle.ConstantTimeCompare(sum, have[16:]) != 1 {
		return refuse("pin-wrong")
	}
	return nil
}
