package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"time"

	"fyne.io/fyne/v2"

	"mvuke/app"
	"mvuke/app/practice"
	"mvuke/app/screens"
	"mvuke/app/screens/learn"
	"mvuke/app/work"
	"mvuke/model"
	"mvuke/steam/pot"
)

// takeShots walks through the screens of the demo and keeps a picture of each, then ends.
func takeShots(a fyne.App, win fyne.Window, shell *app.Shell, d *work.Desk, dir string) {
	defer fyne.Do(a.Quit)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		fmt.Fprintln(os.Stderr, "mvuke:", err)
		return
	}
	time.Sleep(1500 * time.Millisecond)
	ids, err := d.LatestCycles(7)
	if err != nil || len(ids) < 7 {
		fmt.Fprintln(os.Stderr, "mvuke: the demo has no cycles to show:", err)
		return
	}
	for _, x := range []struct {
		name, place string
		id          model.ID
	}{
		{"today", screens.ToToday, model.ID{}}, {"pot", screens.ToPot, model.ID{}}, {"release", screens.ToRelease, ids[1]},
		{"not-known", screens.ToCycle, ids[2]}, {"failed", screens.ToCycle, ids[4]}, {"released", screens.ToCycle, ids[5]},
		{"cycles", screens.ToCycles, model.ID{}}, {"people", screens.ToPeople, model.ID{}}, {"setup", screens.ToSetup, model.ID{}},
		{"slip", screens.ToSlip, model.ID{}}, {"taught", screens.ToTaught, model.ID{}}, {"lessons", screens.ToLearn, model.ID{}},
		{"packs", screens.ToPacks, model.ID{}}, {"pack-new", screens.ToPackNew, model.ID{}}, {"pack", screens.ToPack, somePack(d)},
		{"sets", screens.ToSets, model.ID{}}, {"count", screens.ToCount, someSet(d)}, {"tests", screens.ToTests, model.ID{}}, {"compare", screens.ToCompare, model.ID{}},
		{"care", screens.ToCare, model.ID{}}, {"altitude", screens.ToHeight, model.ID{}}, {"incidents", screens.ToIncidents, model.ID{}}, {"references", screens.ToReferences, model.ID{}},
		{"shelf", screens.ToShelf, model.ID{}}, {"lists", screens.ToLists, model.ID{}}, {"stick", screens.ToStick, model.ID{}}, {"set", screens.ToSetEdit, someSet(d)}, {"stock", screens.ToStock, model.ID{}},
		{"policies", screens.ToPolicies, model.ID{}}, {"recall", screens.ToRecall, model.ID{1}}, {"recalls", screens.ToRecalls, model.ID{}},
	} {
		if x.place == screens.ToRecall { // spores grow: nothing but the recall is as it was after that
			x.id = someRecall(d)
		}
		fyne.DoAndWait(func() { shell.Go(x.place, x.id) })
		time.Sleep(900 * time.Millisecond)
		var fault error
		fyne.DoAndWait(func() { fault = shot(win, filepath.Join(dir, x.name+".png")) })
		if fault != nil {
			fmt.Fprintln(os.Stderr, "mvuke:", fault)
			return
		}
	}
	practiceShots(win, shell, d, dir)
	fmt.Println(dir)
}

// somePack is one that was used: its line of life is the longest.
func somePack(d *work.Desk) (id model.ID) {
	ps, err := d.FindPacks("", 200)
	if err != nil {
		return id
	}
	longest := 0
	for _, p := range ps {
		if len(p.Events) > longest {
			id, longest = p.ID, len(p.Events)
		}
	}
	return id
}

// someRecall lets the spores of the test that waits grow.
func someRecall(d *work.Desk) (id model.ID) {
	tests, err := d.SporeTests(20)
	if err != nil {
		return id
	}
	for _, t := range tests {
		if t.Said == model.SporeWaiting {
			if _, err := d.ReadSpore(t.ID, model.SporeRead{Grew: true}); err != nil {
				return id
			}
		}
	}
	if all, err := d.Recalls(); err == nil && len(all) > 0 {
		id = all[0].ID
	}
	return id
}

// someSet is a set list to count.
func someSet(d *work.Desk) (id model.ID) {
	if sets, err := d.Sets(); err == nil && len(sets) > 0 {
		id = sets[0].ID
	}
	return id
}

// practiceShots are the pot that burns on the screen: spluttering, in the hold, and the lesson's end.
func practiceShots(win fyne.Window, shell *app.Shell, d *work.Desk, dir string) {
	if c, err := d.UnderWay(); err == nil && c != nil { // a real fire comes before practice
		if err := d.CloseCycle(c.State.Ref.ID, model.CycleClosed{Outcome: model.Aborted, Reason: "-"}); err != nil {
			fmt.Fprintln(os.Stderr, "mvuke:", err)
		}
	}
	l, _ := practice.LessonOf("hold")
	var v *learn.View
	take := func(name string, do func()) {
		fyne.DoAndWait(do)
		time.Sleep(900 * time.Millisecond)
		fyne.DoAndWait(func() {
			if err := shot(win, filepath.Join(dir, name+".png")); err != nil {
				fmt.Fprintln(os.Stderr, "mvuke:", err)
			}
		})
	}
	take("practice-form", func() { v = shell.Practise(l) })
	if v == nil {
		return
	}
	x := v.Session()
	p := practice.NewPlayer(x)
	p.Stop = func() bool { return x.Scene.Jet() == pot.JetSplutter }
	run := func(do func() error) {
		if err := do(); err != nil {
			fmt.Fprintln(os.Stderr, "mvuke:", err)
		}
	}
	take("practice-splutter", func() { run(p.Begin); run(p.Run); v.Show() })
	p.Stop = func() bool { return x.Scene.Needle() > 128 }
	take("practice-hold", func() { run(p.Go); v.Show() })
	p.Stop = func() bool { return false }
	take("practice-end", func() { run(p.Go); v.End() })
}

// shot keeps what stands on the display, as a person would see it. (The toolkit's own capture reads the
// buffer after it was handed over, and gets an empty one.)
func shot(win fyne.Window, path string) error {
	size := win.Canvas().Size()
	out, err := exec.Command("import", "-window", "root", "-crop", fmt.Sprintf("%.0fx%.0f+0+0", size.Width, size.Height), path).CombinedOutput()
	if err != nil {
		return fmt.Errorf("no picture (imagemagick is needed): %w %s", err, out)
	}
	return nil
}
