//go:build linux && amd64

package cut

import (
	"context"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"
)

const (
	diskSize = 64 << 20
	bootTime = 90 * time.Second // longest wait for the first word of a guest, or for a check
	dieTime  = 10 * time.Second // longest wait for a killed machine to be gone
)

// A machine is the kernel, the initramfs and the disk image of a trial.
type machine struct {
	kernel kernel
	mkfs   string
	work   string
	args   []string
	boots  int
	fat    bool
}

// Ready reports why no power can be cut here, or nil.
func Ready() error {
	if _, err := findKernel(); err != nil {
		return err
	}
	_, err := mkfsExt4()
	return err
}

// mkfsExt4 finds what makes the disk. On Debian the sbin folders are not on the path of an ordinary user.
func mkfsExt4() (path string, err error) {
	for _, name := range []string{"mkfs.ext4", "/usr/sbin/mkfs.ext4", "/sbin/mkfs.ext4"} {
		if path, err = exec.LookPath(name); err == nil {
			return path, nil
		}
	}
	return "", errors.New("no mkfs.ext4: apt-get install e2fsprogs")
}

// BuildGuest builds the guest program of this package in dir and returns its
// path. It must be called from inside the module.
func BuildGuest(ctx context.Context, dir string) (string, error) {
	path := filepath.Join(dir, "guest")
	c := exec.CommandContext(ctx, "go", "build", "-o", path, "mvuke/cmd/dev/cut/guest")
	c.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS=linux", "GOARCH=amd64")
	if out, err := c.CombinedOutput(); err != nil {
		return "", fmt.Errorf("building the guest: %w\n%s", err, out)
	}
	return path, nil
}

func newMachine(o Options) (*machine, error) {
	k, err := findKernel()
	if err != nil {
		return nil, err
	}
	program, err := os.ReadFile(o.Guest)
	if err != nil {
		return nil, err
	}
	m := &machine{kernel: k, work: o.Work, fat: o.FAT, args: append([]string{"mvuke.disk=" + k.disk}, o.Args...)}
	if o.FAT {
		m.args = append(m.args, "mvuke.fs=vfat")
		m.mkfs, err = mkfsFAT()
	} else {
		m.mkfs, err = mkfsExt4()
	}
	if err != nil {
		return nil, err
	}
	modules, err := k.load(k.needs(o.FAT))
	if err != nil {
		return nil, err
	}
	return m, os.WriteFile(m.path("initramfs"), initramfs(program, modules...), 0o644)
}

func (m *machine) path(name string) string { return filepath.Join(m.work, name) }

func (m *machine) newDisk(ctx context.Context) error {
	image := m.path("disk")
	if err := os.WriteFile(image, nil, 0o644); err != nil {
		return err
	}
	if err := os.Truncate(image, diskSize); err != nil {
		return err
	}
	if m.fat {
		out, err := exec.CommandContext(ctx, m.mkfs, "-F", "32", "-s", "1", image).CombinedOutput()
		if err != nil {
			return fmt.Errorf("mkfs.vfat: %w\n%s", err, out)
		}
		return nil
	}
	// Without lazy initialisation: no kernel thread writing behind our back.
	out, err := exec.CommandContext(ctx, m.mkfs, "-q", "-F", "-E", "lazy_itable_init=0,lazy_journal_init=0", image).CombinedOutput()
	if err != nil {
		return fmt.Errorf("mkfs.ext4: %w\n%s", err, out)
	}
	return nil
}

// writeAndCut boots a writing guest on a disk that holds acts 1 to last, and
// kills the machine a while after the first ack. It returns how many acts
// were acked and the last of them.
func (m *machine) writeAndCut(ctx context.Context, mode string, last int, after time.Duration) (acked, highest int, err error) {
	g, err := m.boot(mode)
	if err != nil {
		return 0, 0, err
	}
	defer g.off()
	highest = last
	moment := time.NewTimer(bootTime)
	defer moment.Stop()
	cut := false
	for {
		select {
		case <-ctx.Done():
			return 0, 0, ctx.Err()
		case <-moment.C:
			if acked == 0 {
				return 0, 0, g.fail("no ack within " + bootTime.String())
			}
			if cut {
				return 0, 0, g.fail("a part of the machine outlived the cut")
			}
			cut = true
			if err := g.kill(); err != nil {
				return 0, 0, err
			}
			moment.Reset(dieTime)
		case line, more := <-g.lines:
			// What is still in the pipe after the cut was said before it.
			if !more {
				if !cut {
					return 0, 0, g.fail("the guest ended on its own")
				}
				return acked, highest, nil
			}
			word, rest, _ := strings.Cut(line, " ")
			if word == "fail:" {
				return 0, 0, g.fail("the guest could not go on")
			}
			n, err := strconv.Atoi(rest)
			if word != "ack" || err != nil {
				continue
			}
			if n != highest+1 {
				return 0, 0, g.fail(fmt.Sprintf("ack %d after %d", n, highest))
			}
			highest = n
			if acked++; acked == 1 && !cut {
				moment.Reset(after)
			}
		}
	}
}

// check boots a checking guest and returns what it found.
func (m *machine) check(ctx context.Context, mode string) (have int, bad string, err error) {
	g, err := m.boot(mode)
	if err != nil {
		return 0, "", err
	}
	defer g.off()
	late := time.After(bootTime)
	have, verdict := -1, ""
	for {
		select {
		case <-ctx.Done():
			return 0, "", ctx.Err()
		case <-late:
			return 0, "", g.fail("no end of the check within " + bootTime.String())
		case line, more := <-g.lines:
			if !more {
				if have < 0 || verdict == "" {
					return 0, "", g.fail("the check came to no verdict")
				}
				return have, bad, nil
			}
			if s, ok := strings.CutPrefix(line, "have "); ok {
				if have, err = strconv.Atoi(s); err != nil {
					return 0, "", g.fail("not a number: " + line)
				}
			}
			if s, ok := strings.CutPrefix(line, "integrity "); ok {
				if verdict = s; s != "ok" {
					bad = strings.TrimPrefix(s, "bad: ")
				}
			}
		}
	}
}
