//go:build linux && amd64

// Package cut cuts the power of a whole machine, again and again, and counts
// what it had promised to keep and has lost.
//
// The machine is a user-mode Linux: a Linux kernel that runs as an ordinary
// process, no root and no virtualisation needed. Its only program is the
// guest (folder guest), packed as /init of an initramfs; its only disk is an
// ext4 image file. The guest appends signed acts to the store (package
// mvuke/model/store) on that disk, with the settings the program itself uses,
// and says "ack N" on its console after act N was committed. A random moment
// after the first ack the machine is killed outright. What its kernel still
// held in memory is gone, as in a power cut; what it had written to the image
// stays. The same image is then booted once more, which replays the ext4
// journal and the store's own log, and the guest reports what it finds. Every
// act that was acked must be there. RESULT.md has the last result.
//
// This is a disk that loses nothing it was given. A commit that never reaches
// the disk is found out, and so is one of which only a part was written. Not
// found out is a commit that is handed to the disk without the order to flush
// it: the host keeps such a write, a real disk may not.
//
// Debian packages: user-mode-linux (/usr/bin/linux.uml) and e2fsprogs
// (/sbin/mkfs.ext4). Building the guest takes the Go tool.
//
// To run the tests, from the top of the module:
//
//	MVUKE_LONG=1 go test -count=1 -v ./cmd/dev/cut                     a small dose, 3 cuts
//	MVUKE_LONG=compare go test -count=1 -timeout 90m -v ./cmd/dev/cut  15 cuts FULL, 15 NORMAL
package cut

import (
	"context"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"time"
)

// Options say what to cut and how often.
type Options struct {
	Guest string    // path of a static linux/amd64 program, see BuildGuest
	Args  []string  // kernel arguments for both boots, as mvuke.sync=FULL
	Write string    // further arguments of the boot that is cut; mvuke.mode=write if empty
	Check string    // further arguments of the boot that checks; mvuke.mode=check if empty
	Cuts  int       // how many times to cut
	Fresh bool      // a new disk for every cut; else only at first and after damage
	Seed  uint64    // chooses the moments of the cuts
	FAT   bool      // the disk is a stick: FAT32, written to by the recipe for sticks
	Work  string    // an empty folder for the image; its path must be short, it holds a socket
	Log   io.Writer // a line for each cut; nil for none

	// The cut falls between Min and Max after the first ack; 0.3 and 2.5
	// seconds if zero.
	Min, Max time.Duration
}

// A Cut is one cut and what the boot after it found.
type Cut struct {
	After time.Duration // from the first ack to the cut
	Acked int           // acts acked in this boot
	Last  int           // the highest act acked so far on this disk
	Have  int           // acts found after the cut
	Lost  int           // acts acked and not found
	Bad   string        // what the check found damaged, empty if nothing
	Took  time.Duration // both boots and what lies between
}

// A Result is all cuts of a run, in order.
type Result struct{ Cuts []Cut }

// Run makes o.Cuts cuts. Acts lost and data damaged are in the result; an
// error means that the trial itself failed. The moments of the cuts follow
// from o.Seed, what the guest is doing at them does not.
func Run(ctx context.Context, o Options) (Result, error) {
	var res Result
	o, err := o.complete()
	if err != nil {
		return res, err
	}
	m, err := newMachine(o)
	if err != nil {
		return res, err
	}
	dice := rand.New(rand.NewPCG(o.Seed, 0))
	last := 0
	newDisk := true
	for i := range o.Cuts {
		if newDisk {
			if err := m.newDisk(ctx); err != nil {
				return res, err
			}
			last = 0
		}
		after := o.Min + time.Duration(dice.Int64N(int64(o.Max-o.Min)+1))
		c, err := one(ctx, m, o, last, after)
		if err != nil {
			return res, fmt.Errorf("cut %d: %w", i+1, err)
		}
		res.Cuts = append(res.Cuts, c)
		last = c.Have // what is lost is counted once
		newDisk = o.Fresh || c.Bad != ""
		fmt.Fprintf(o.Log, "cut %2d after %5d ms: acked %5d, last %6d, have %6d, lost %5d %s (%.1f s)\n",
			i+1, c.After.Milliseconds(), c.Acked, c.Last, c.Have, c.Lost, c.Bad, c.Took.Seconds())
	}
	return res, nil
}

// one writes, cuts and checks. The disk holds acts 1 to last before.
func one(ctx context.Context, m *machine, o Options, last int, after time.Duration) (Cut, error) {
	start := time.Now()
	c := Cut{After: after}
	var err error
	if c.Acked, c.Last, err = m.writeAndCut(ctx, o.Write, last, after); err != nil {
		return c, err
	}
	if c.Have, c.Bad, err = m.check(ctx, o.Check); err != nil {
		return c, err
	}
	c.Lost = max(0, c.Last-c.Have)
	c.Took = time.Since(start)
	return c, nil
}

func (o Options) complete() (Options, error) {
	if o.Write == "" {
		o.Write = "mvuke.mode=write"
	}
	if o.Check == "" {
		o.Check = "mvuke.mode=check"
	}
	if o.Min == 0 && o.Max == 0 {
		o.Min, o.Max = 300*time.Millisecond, 2500*time.Millisecond
	}
	if o.Log == nil {
		o.Log = io.Discard
	}
	if o.Min < 0 || o.Max < o.Min {
		return o, fmt.Errorf("cut between %v and %v", o.Min, o.Max)
	}
	if o.Work == "" || o.Guest == "" {
		return o, errors.New("options need Guest and Work")
	}
	return o, os.MkdirAll(o.Work, 0o755)
}
