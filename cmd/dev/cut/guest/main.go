//go:build linux

// Guest is the program that lives through the power cuts of package cut.
//
// It is the whole of the guest: a static binary that the kernel starts as
// process 1 from an initramfs. As process 1 it mounts what it needs, reads
// its settings from the kernel command line, does its work and turns the
// machine off. Started by hand on an ordinary Linux it takes the same
// settings as arguments and mounts nothing:
//
//	guest mvuke.mode=write mvuke.data=/tmp/try mvuke.count=100
//	guest mvuke.mode=check mvuke.data=/tmp/try
//
// Settings, with what they are when left out:
//
//	mvuke.mode=write  write: append for ever; check: reopen and report; stick-write
//	                  and stick-check: the same with files on a stick
//	mvuke.fs=ext4     file system of the disk under test
//	mvuke.disk=/dev/ubda  what the kernel calls that disk
//	mvuke.recipe=ours how a file is written onto a stick: ours, or usual (without
//	                  the second order to flush)
//	mvuke.sync=FULL   PRAGMA synchronous of the store
//	mvuke.data=/data  the folder on the disk under test
//	mvuke.count=0     stop writing after so many; 0 never stops
//
// It speaks in lines on its standard output, the console of the guest:
// "ack N" after act N was committed, "have N" and "integrity ok" from a
// check, "integrity bad: why" when the data are damaged, "fail: why" when the
// program itself could not go on.
package main

import (
	"fmt"
	"os"
	"strconv"
	"strings"
)

func main() {
	args := os.Args[1:]
	machine := os.Getpid() == 1
	if machine {
		var err error
		if args, err = boot(); err != nil {
			fmt.Println("fail:", err)
			powerOff()
		}
	}
	err := work(readSettings(args))
	if err != nil {
		fmt.Println("fail:", err)
	}
	if machine {
		powerOff()
	}
	if err != nil {
		os.Exit(1)
	}
}

// settings are the mvuke.name=value words of a command line, by name.
type settings map[string]string

func readSettings(words []string) settings {
	s := settings{"mode": "write", "sync": "FULL", "data": "/data", "count": "0", "fs": "ext4", "disk": "/dev/ubda", "recipe": "ours"}
	for _, w := range words {
		name, value, ok := strings.Cut(w, "=")
		if name, mine := strings.CutPrefix(name, "mvuke."); ok && mine {
			s[name] = value
		}
	}
	return s
}

func work(s settings) error {
	count, err := strconv.Atoi(s["count"])
	if err != nil {
		return fmt.Errorf("mvuke.count: %w", err)
	}
	switch s["mode"] {
	case "stick-write":
		return writeStick(s["data"], s["recipe"])
	case "stick-check":
		return checkStick(s["data"])
	case "write":
		l, err := open(s["data"], s["sync"])
		if err != nil {
			return err
		}
		defer l.Close()
		return write(l, count)
	case "check":
		// Data that cannot be opened are damaged data, not a failed program.
		l, err := open(s["data"], s["sync"])
		if err != nil {
			fmt.Println("have 0")
			fmt.Println("integrity bad:", oneLine(err))
			return nil
		}
		defer l.Close()
		return check(l)
	}
	return fmt.Errorf("no mode called %q", s["mode"])
}

// write appends act after act, going on from what is there. The ack of an act
// is printed once Append has returned, never before.
func write(l *ledger, count int) error {
	have, err := l.Have()
	if err != nil {
		return err
	}
	for n := have + 1; count == 0 || n <= have+count; n++ {
		if err := l.Append(n); err != nil {
			return fmt.Errorf("append %d: %w", n, err)
		}
		fmt.Printf("ack %d\n", n)
	}
	return nil
}

// check reports what survived. Damage is an answer, not a failure.
func check(l *ledger) error {
	have, err := l.Have()
	fmt.Println("have", have)
	if err == nil {
		err = l.Check()
	}
	if err != nil {
		fmt.Println("integrity bad:", oneLine(err))
		return nil
	}
	fmt.Println("integrity ok")
	return nil
}

func oneLine(err error) string { return strings.Join(strings.Fields(err.Error()), " ") }
