package work

import (
	"slices"
	"strings"
	"time"

	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/register"
)

// The devices of the district, and taking one out of it.

// DeviceKnown is a device as it stands now.
type DeviceKnown struct {
	Stream  entry.Stream
	Site    model.ID
	Letter  string
	Seq     uint64 // last entry that is here
	Last    int64  // when it was written, by that device's clock; wall, ms
	Since   int64  // when it was let in, by the clock of who did; wall, ms
	Removed bool
	Cut     uint64
	Forked  bool
	Own     bool // this device, under its present key
	May     model.Caps
}

// Devices lists those of all sites that are known here, by site and letter.
func (d *Desk) Devices() (out []DeviceKnown, err error) {
	heads, err := d.Store.Heads()
	if err != nil {
		return nil, d.unread(err)
	}
	err = d.read(func(src register.Source) {
		r := src.Roster()
		for _, s := range r.Sites() {
			for stream, dev := range r.Devices(s.ID) {
				x := DeviceKnown{Stream: stream, Site: s.ID, Letter: dev.Letter, Removed: dev.Removed, Cut: dev.Cut, Forked: dev.Forked > 0, Own: d.author != nil && stream == d.author.Stream, May: dev.Caps}
				for _, g := range dev.Grants {
					if v, ok := src.Entry(g.Device); ok && (x.Since == 0 || v.Body().Wall < x.Since) {
						x.Since = v.Body().Wall
					}
				}
				for _, h := range heads {
					if h.Stream != stream || h.Seq < x.Seq {
						continue
					}
					x.Seq = h.Seq
					if v, ok := src.Entry(h.ID); ok {
						x.Last = v.Body().Wall
					}
				}
				out = append(out, x)
			}
		}
	})
	slices.SortFunc(out, func(a, b DeviceKnown) int {
		if c := slices.Compare(a.Site[:], b.Site[:]); c != 0 {
			return c
		}
		return strings.Compare(a.Letter, b.Letter)
	})
	return out, err
}

// RemoveDevice takes a device out: lost, stolen, broken or given away. What it wrote counts on, up to the last entry that is here or, where since is given, up to the last before that
// day by its own clock; later holds count all the same, later releases and clears do not. No later word brings it back: a device that is found again starts under a new key.
func (d *Desk) RemoveDevice(s entry.Stream, since time.Time, reason string) error {
	if err := d.mayManage(); err != nil {
		return err
	}
	if strings.TrimSpace(reason) == "" {
		return refuse("reason-missing")
	}
	all, err := d.Devices()
	if err != nil {
		return err
	}
	i := slices.IndexFunc(all, func(x DeviceKnown) bool { return x.Stream == s })
	switch {
	case i < 0:
		return refuse("no-such-device")
	case all[i].Own:
		return refuse("remove-itself")
	}
	office, err := d.Office()
	if err != nil {
		return err
	}
	own, err := d.SiteID()
	if err != nil {
		return err
	}
	if !office && all[i].Site != own {
		return refuse("office-only")
	}
	cut := all[i].Seq
	if !since.IsZero() {
		cut = 0
		err := d.Store.After(s, 0, func(piece []entry.Sealed, _ bool) error {
			vs, err := entry.VerifyAll(piece)
			for _, v := range vs {
				if time.UnixMilli(v.Body().Wall).Before(since) && v.Body().Seq == cut+1 { // up to the first that is not
					cut++
				}
			}
			return err
		})
		if err != nil {
			return d.unread(err)
		}
	}
	_, err = d.sign(entry.Draft{Kind: model.KindDeviceRemoved, Targets: []model.Ref{{Noun: model.NounDevice, ID: model.ID(s)}, {Noun: model.NounSite, ID: all[i].Site}},
		Payload: model.DeviceRemoved{Stream: s[:], Seq: int64(cut), Reason: strings.TrimSpace(reason)}})
	return err
}
