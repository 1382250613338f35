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

// LargeDistrict makes an office's register with so many clinics, each with so many loads evenly over so many years: for measuring. The clinics join by sticks as they do in life; what they did is
// signed in batches with their own keys. It lies in the folder "office".
func LargeDistrict(dir string, clinics, loads, years int, now time.Time) (err error) {
	start := now.AddDate(-years, 0, -1)
	every := now.Sub(start) / time.Duration(loads+1)
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
	signed := make(chan []entry.Verified, 4)
	done := make(chan error, 1)
	go func() { // what is signed is taken in meanwhile, as if a stick had brought it
		var err error
		for vs := range signed {
			if err == nil {
				_, err = st.Receive(vs)
			}
		}
		done <- err
	}()
	for n, g := range all {
		l := larger{st: st, start: start, clk: NewClock(start), pot: g.pot, gauge: g.gauge, every: every,
			keep: func(vs []entry.Verified) error { signed <- vs; return nil }}
		l.author = entry.NewAuthor(g.key, g.root)
		l.resume()
		var yearAgo uint64
		for i := range loads {
			if l.clk.Wall.Before(now.AddDate(-1, 0, 0)) {
				yearAgo = l.author.Seq
			}
			l.load(i, i >= loads-1)
		}
		if n == len(all)-1 {
			l.readsHigh(yearAgo)
		}
		l.flush()
		if err = l.err; err != nil {
			break
		}
	}
	close(signed)
	return errors.Join(err, <-done, st.Close())
}

// readsHigh has the gauge compared, and found to show twelve too much since some time: what was run since is in doubt.
func (l *larger) readsHigh(since uint64) {
	looks := model.GaugeLooks{Unit: "kPa", SpanMilli: 250_000, LineMilli: 5000, ClassMilli: 2500}
	l.sign(model.KindCompared, model.Compared{Points: []model.FrozenCorrection{{AtMilli: 60_000, ErrorMilli: 12_000}, {AtMilli: 137_000, ErrorMilli: 12_000}}, ReferenceMilli: 600, Gauge: &looks,
		At: l.clk.Wall.UnixMilli(), WorstPa: 12_600, Since: []model.KnownUpTo{{Stream: l.author.Stream[:], Seq: int64(since)}}}, nil,
		model.Ref{Noun: model.NounGauge, ID: l.gauge}, model.Ref{Noun: model.NounSterilizer, ID: l.pot})
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
	if err := errors.Join(x.join(c), x.settle(c)); err != nil {
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
