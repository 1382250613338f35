package demo

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mvuke/model"
)

// ending is how the story stands now: a recall in the middle of being answered, a gauge that was found to show too much and waits to be looked back on, two clashes, and a device that
// went on from a backup.
func (x *districtOf) ending() error {
	by := map[string]*clinic{}
	for _, c := range x.clinics {
		by[c.name] = c
	}
	for _, do := range []func() error{
		func() error { return x.recall(by["Ngareli"], by["Kimbala"]) },
		func() error { return x.compare(by["Sotwe Ridge"], 9) },
		func() error { return x.clashes(by["Oltana"]) },
		func() error { return x.restored(by["Lower Tesharo"]) },
	} {
		x.clk.Pass(3 * time.Hour)
		if err := do(); err != nil {
			return fmt.Errorf("demo: the ending: %w", err)
		}
	}
	for _, c := range x.clinics[:len(x.clinics)-1] {
		x.clk.Pass(15 * time.Minute)
		if err := errors.Join(x.carry(c, x.office), x.carry(x.office, c)); err != nil {
			return err
		}
	}
	return x.wipe()
}

// recall: spores of a test grew; a pack had gone to another clinic, some packs are found, and the rest is still looked for.
func (x *districtOf) recall(c, other *clinic) error {
	load, err := packed(c.d, 5)
	if err != nil {
		return err
	}
	cycle, err := CycleWith(c.d, x.clk, Burn{Strip: true}, load)
	if err != nil {
		return err
	}
	if err := settle(c.d, cycle, false); err != nil {
		return err
	}
	if err := c.d.MovePack(load[0].ID, model.PackMoved{What: model.MoveSent, To: other.name}); err != nil {
		return err
	}
	if err := c.d.MovePack(load[1].ID, model.PackMoved{What: model.MoveIssued, To: "maternity"}); err != nil {
		return err
	}
	test, err := c.d.PlaceSpore(cycle, model.SporePlaced{Lot: "S-240", Expires: x.clk.Wall.AddDate(1, 0, 0).UnixMilli(), Control: true})
	if err != nil {
		return err
	}
	c.tests = append(c.tests, test)
	x.clk.Pass(50 * time.Hour)
	if err := x.readTests(c, true); err != nil {
		return err
	}
	if err := errors.Join(x.carry(c, x.office), x.carry(x.office, other)); err != nil {
		return err
	}
	if err := c.d.SetAside(load[2].ID); err != nil {
		return err
	}
	if err := other.d.SetAside(load[0].ID); err != nil {
		return err
	}
	return x.carry(other, x.office)
}

// clashes: two devices of one clinic state a set list and a policy differently, and neither knew of the other.
func (x *districtOf) clashes(c *clinic) error {
	twin := &clinic{name: c.name, dir: c.dir + "-tablet", rng: c.rng}
	if err := c.d.Close(); err != nil {
		return err
	}
	if err := os.CopyFS(twin.dir, os.DirFS(c.dir)); err != nil {
		return err
	}
	if err := errors.Join(x.open(c), x.open(twin)); err != nil {
		return err
	}
	for i, d := range []*clinic{c, twin} {
		sets, err := d.d.Sets()
		if err != nil {
			return err
		}
		for _, s := range sets {
			if s.List.Name == "dressing" && len(s.List.Pieces) > 1 {
				s.List.Pieces[0].Count = int64(2 + i)
				if _, err := d.d.SaveSet(s.ID, s.List); err != nil {
					return err
				}
			}
		}
		p, err := d.d.Place()
		if err != nil {
			return err
		}
		a := Answers("en")
		a.Site, a.Gauge, a.Pot = p.Site, p.Pots[0].Gauge, p.Pots[0].Looks
		a.Pot.LeastWaterML = int64(2500 + 300*i)
		if err := d.d.Correct(p.Pots[0], p, a); err != nil {
			return err
		}
	}
	return errors.Join(x.carry(twin, c), twin.d.Close())
}

// restored: the laptop broke, and a copy of the folder from before went on.
func (x *districtOf) restored(c *clinic) error {
	if err := c.d.Close(); err != nil {
		return err
	}
	copyDir := filepath.Join(x.dir, "copy")
	if err := os.CopyFS(copyDir, os.DirFS(c.dir)); err != nil {
		return err
	}
	if err := x.open(c); err != nil {
		return err
	}
	if err := c.d.Boiled("forceps", 20); err != nil {
		return err
	}
	if err := errors.Join(x.carry(c, x.office), c.d.Close(), os.RemoveAll(c.dir), os.Rename(copyDir, c.dir)); err != nil {
		return err
	}
	return x.open(c)
}
