//go:build linux

package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"mvuke/sync/stick"
)

// mostFiles fit onto the disk of a trial; then the writer waits to be cut.
const mostFiles = 900

// content of a file by its number, some 40 KB: what is there after the yank is told from what is not.
func content(n int) []byte { return bytes.Repeat([]byte(fmt.Sprintf("bundle %08d ", n)), 2500) }

func stickName(n int) string { return fmt.Sprintf("MV%06d.MVB", n) }

// writeStick writes file after file and says "ack N" when the recipe says that the stick may be pulled.
func writeStick(dir, recipe string) error {
	have := haveOnStick(dir)
	for n := have + 1; n <= mostFiles; n++ {
		var err error
		if recipe == "usual" {
			err = usual(filepath.Join(dir, stickName(n)), content(n))
		} else {
			err = stick.Write(stick.Disk{}, dir, stickName(n), content(n), nil)
		}
		if err != nil {
			return fmt.Errorf("file %d: %w", n, err)
		}
		fmt.Printf("ack %d\n", n)
	}
	time.Sleep(time.Hour)
	return nil
}

// usual is the recipe of many programs: write beside, flush, rename.
func usual(path string, data []byte) error {
	part := path + ".part"
	f, err := os.Create(part)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	if err := f.Close(); err != nil {
		return err
	}
	return os.Rename(part, path)
}

// haveOnStick counts the files from the first on that are whole.
func haveOnStick(dir string) (n int) {
	for {
		b, err := os.ReadFile(filepath.Join(dir, stickName(n+1)))
		if err != nil || !bytes.Equal(b, content(n+1)) {
			return n
		}
		n++
	}
}

// checkStick says how many files are whole; a torn one after them was never acknowledged, or is lost.
func checkStick(dir string) error {
	fmt.Println("have", haveOnStick(dir))
	fmt.Println("integrity ok")
	return nil
}
