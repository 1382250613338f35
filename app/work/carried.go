package work

import (
	"strconv"

	"mvuke/model"
	"mvuke/model/register"
)

// todayCarried says what came on sticks and needs somebody: entries that wait for those before them, and a device of which a copy wrote beside it.
func (d *Desk) todayCarried(add func(Urgency, string, string, model.ID, ...string)) error {
	waiting, err := d.Store.Waiting()
	if err != nil {
		return d.unread(err)
	}
	if len(waiting) > 0 {
		add(Note, "waiting", "stick", model.ID{}, strconv.Itoa(len(waiting)))
	}
	if lost, err := d.Store.WaitingLost(); err != nil {
		return d.unread(err)
	} else if lost > 0 {
		add(Stop, "waiting-lost", "restored", model.ID{}, strconv.FormatInt(lost, 10))
	}
	if j, err := d.Joined(); err != nil {
		return err
	} else if j.Unproven {
		add(Now, "unproven", "stick", model.ID{}, j.District)
	}
	p, err := d.Place()
	if err != nil {
		return err
	}
	var forked []string
	err = d.read(func(src register.Source) {
		for _, dev := range src.Roster().Devices(p.ID) {
			if dev.Forked > 0 {
				forked = append(forked, dev.Letter)
			}
		}
	})
	for _, letter := range forked {
		add(Note, "forked", "stick", model.ID{}, letter)
	}
	return err
}
