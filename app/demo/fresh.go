package demo

import (
	"errors"
	"os"
	"path/filepath"
	"time"

	"mvuke/app/work"
	"mvuke/model/store"
)

// Fresh fills a folder with the demo clinic so that its past ends at now: the last cycle is then
// on the fire. It refuses a folder that holds a register.
func Fresh(dir string, now time.Time) error {
	if _, err := os.Stat(filepath.Join(dir, store.RegisterFile)); err == nil {
		return errors.New("demo: " + dir + " already holds a register; choose an empty folder")
	}
	trial, err := os.MkdirTemp("", "mvuke-demo-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(trial)
	length, err := fillFrom(trial, now) // once to see how long the past is
	if err != nil {
		return err
	}
	_, err = fillFrom(dir, now.Add(-length))
	return err
}

func fillFrom(dir string, start time.Time) (length time.Duration, err error) {
	clk := NewClock(start)
	d, err := work.Open(dir, work.Options{Clock: clk})
	if err != nil {
		return 0, err
	}
	if err := Fill(d, clk); err != nil {
		return 0, errors.Join(err, d.Close())
	}
	return clk.Wall.Sub(start), d.Close()
}
