//go:build !linux

package home

import (
	"crypto/rand"
	"time"

	"mvuke/model"
)

// diskKind: not told here; CheckDisk's probe of private files still works on macOS.
func diskKind(string) string { return "" }

// FreeBytes is not told on this system.
func FreeBytes(string) int64 { return -1 }

// The running time since this start of the program stands in for that of the
// machine: a restart is then always "not proven", which is the safe side.
var (
	started = time.Now()
	run     = func() (id model.ID) { rand.Read(id[:]); return id }()
)

func boot() (model.ID, time.Duration) { return run, time.Since(started) }
