package demo

import (
	"crypto/ed25519"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mvuke/app/home"
	"mvuke/model"
	"mvuke/model/entry"
	"mvuke/model/store"
)

// LargeDistrict makes an office's register with so many clinics, each with so many loads, a week between them: for measuring. The clinics join by sticks as they do in life; what they did is
// signed in batches with their own keys. It lies in the folder "office".
func LargeDistrict(dir string, clinics, loads int, now time.Time) (err error) {
	start := now.AddDate(0, 0, -7*loads-1)
	x := &districtOf{dir: dir, stick: filepath.Join(dir, "stick"), clk: NewClock(start)}
	if err := os.MkdirAll(x.stick, 0o700); err != nil {
		return err
	}
	defer x.asOldAs(start)(&err)
	if x.office, err = x.begin(DistrictName, 0, "T. — officer", true, 1); err != nil {
		return err
	}
	var all []grown
	for i := range clinics {
		g, err := x.member(i)
		if err != nil {
			return fmt.Errorf("clinic %d: %w", i, err)
		}
		all = append(all, g)
	}
	if err := x.office.d.Close(); err != nil {
		return err
	}
	x.office.d = nil
	st, err := store.Open(x.office.dir, store.Options{})
	if err != nil {
		return err
	}
	for _, g := range all {
		l := larger{st: st, start: start, clk: NewClock(start), pot: g.pot, gauge: g.gauge, from: true, every: 7 * 24 * time.Hour}
		l.author = entry.NewAuthor(g.key, g.root)
		l.resume()
		for i := range loads {
			l.load(i, i >= loads-1)
		}
		l.flush()
		if l.err != nil {
			return errors.Join(l.err, st.Close())
		}
	}
	return st.Close()
}

// grown is a clinic whose past is to be signed.
type grown struct {
	key        ed25519.PrivateKey
	root       entry.District
	pot, gauge model.ID
}

// member sets a clinic up, has it join, and gives what its past is signed with. Its folder is not kept.
func (x *districtOf) member(i int) (g grown, err error) {
	c, err := x.begin(fmt.Sprintf("Clinic %c%c%d", 'A'+i%26, 'A'+i/26%26, i), int64(100+(i*37)%3400), "Sister Asha", false, uint64(i))
	if err != nil {
		return g, err
	}
	if err := x.join(c); err != nil {
		return g, err
	}
	p, err := c.d.Place()
	if err != nil {
		return g, err
	}
	key, err := home.LoadKey(home.Disk{}, c.dir, home.DeviceKey)
	g = grown{key, c.d.Store.District(), p.Pots[0].ID, p.Pots[0].Looks.Gauge}
	return g, errors.Join(err, c.d.Close(), os.RemoveAll(c.dir))
}
