package work

import (
	"fmt"
	"path/filepath"
	"slices"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// Wake marks a cycle under way as interrupted when the program was not there: from the last thing
// recorded to now. Another run of the machine, or another machine, is an interruption whatever
// its clock says, and nobody can prove how long it was. It gives the cycle's id, zero where
// none is under way.
func (d *Desk) Wake() (model.ID, error) {
	c, err := d.UnderWay()
	if err != nil || c == nil {
		return model.ID{}, err
	}
	from := int64(0)
	var last entry.Verified
	for _, v := range c.State.Entries {
		if x, ok := offset(v); ok && x >= from {
			from, last = x, v
		}
	}
	if !last.IsZero() && last.Body().Stream != d.author.Stream && d.certifiedStream(last.Body().Stream) {
		return c.State.Ref.ID, nil // another device minds this fire; what it sees is its to say. Looks from here are marked as unproven by themselves
	}
	to, unproven := d.place(*c)
	if last.IsZero() || (!unproven && to-from < (2*time.Minute).Milliseconds()) {
		return c.State.Ref.ID, nil
	}
	gap := model.Interrupted{From: from, To: max(to, from), Unproven: unproven}
	_, err = d.sign(entry.Draft{Kind: model.KindInterrupted, Targets: []model.Ref{c.State.Ref}, Payload: gap})
	return c.State.Ref.ID, err
}

// Backup makes a verified copy in the backup folder and thins the old ones: the last
// seven, then one a week for five weeks, then one a month for a year.
func (d *Desk) Backup() (string, store.Report, error) {
	dir := d.BackupDir()
	if err := d.fs.MkdirAll(dir, 0o700); err != nil {
		return "", store.Report{}, wrap(err, "backup-failed", err.Error())
	}
	path := filepath.Join(dir, d.Clock.Now().Wall.UTC().Format("register-20060102-150405")+".mvb")
	r, err := d.Store.Backup(path)
	if err != nil {
		return "", r, wrap(err, "backup-failed", err.Error())
	}
	if err := d.thin(dir); err != nil {
		return path, r, wrap(err, "copies-stay", err.Error())
	}
	return path, r, nil
}

func (d *Desk) thin(dir string) error {
	names, err := filepath.Glob(filepath.Join(dir, "register-*.mvb"))
	if err != nil {
		return err
	}
	slices.Sort(names)
	slices.Reverse(names)
	weeks, months := map[string]bool{}, map[string]bool{}
	for i, n := range names {
		t, err := time.Parse("register-20060102-150405.mvb", filepath.Base(n))
		if err != nil || i < 7 {
			continue
		}
		y, w := t.ISOWeek()
		week, month := fmt.Sprint(y, w), t.Format("2006-01")
		keep := (!weeks[week] && len(weeks) < 5) || (!months[month] && len(months) < 12)
		weeks[week], months[month] = true, true
		if !keep {
			if err := d.fs.Remove(n); err != nil {
				return err
			}
		}
	}
	return nil
}

// BackupDue says whether the last verified copy is older than a day.
func (d *Desk) BackupDue() bool {
	names, _ := filepath.Glob(filepath.Join(d.BackupDir(), "register-*.mvb"))
	slices.Sort(names)
	if len(names) == 0 {
		return true
	}
	t, err := time.Parse("register-20060102-150405.mvb", filepath.Base(names[len(names)-1]))
	age := d.Clock.Now().Wall.Sub(t)
	return err != nil || age > 24*time.Hour || age < 0
}
