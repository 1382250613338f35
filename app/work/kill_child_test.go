//go:build unix

package work_test

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"strconv"
	"strings"
	"testing"
	"time"

	"mvuke/app/demo"
	"mvuke/app/work"
)

// A child that is to be killed is this test binary once more, told by the environment what to
// do in which folder.
const (
	childDoes = "MVUKE_KILL_DOES"
	childDir  = "MVUKE_KILL_DIR"
)

func TestMain(m *testing.M) {
	if does := os.Getenv(childDoes); does != "" {
		fmt.Println("fail", child(does, os.Getenv(childDir))) // it never ends but by a kill or an error
		os.Exit(1)
	}
	os.Exit(m.Run())
}

func child(does, dir string) error {
	d, err := work.Open(dir, work.Options{})
	if err != nil {
		return err
	}
	if d.NeedsSetup() {
		if err := d.SetUp(demo.Answers("en")); err != nil {
			return err
		}
	}
	people, err := d.People()
	if err != nil {
		return err
	}
	d.Act(people[0].ID)
	switch does {
	case "type":
		return typeOn(d)
	case "bring":
		return bringOn(d)
	case "out":
		return outOn(d)
	}
	return lookOn(d)
}

// killRoom is a data folder for children, with a state folder beside it that both sides use.
func killRoom(t *testing.T) string {
	t.Helper()
	t.Setenv("MVUKE_STATE", t.TempDir())
	dir := t.TempDir()
	lightBallast(t, dir)
	return dir
}

type kid struct {
	cmd    *exec.Cmd
	lines  chan string
	said   map[string]int // how often it said each word
	killed bool
	fail   string
}

func start(t *testing.T, does, dir string) *kid {
	t.Helper()
	k := &kid{cmd: exec.Command(os.Args[0]), lines: make(chan string), said: map[string]int{}}
	k.cmd.Env = append(os.Environ(), childDoes+"="+does, childDir+"="+dir)
	k.cmd.Stderr = os.Stderr
	out, err := k.cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := k.cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { k.cmd.Process.Kill() })
	go func() {
		defer close(k.lines)
		for in := bufio.NewReader(out); ; {
			line, err := in.ReadString('\n')
			if err != nil { // a line without its end was not said
				return
			}
			k.lines <- strings.TrimSpace(line)
		}
	}()
	return k
}

// note keeps the number that goes with a word. What is in the pipe after the kill counts: it
// was said before.
func (k *kid) note(line string, last map[string]int) {
	word, rest, _ := strings.Cut(line, " ")
	n, err := strconv.Atoi(rest)
	if _, known := last[word]; !known || err != nil {
		k.fail = line
		return
	}
	last[word] = n
	k.said[word]++
}

// killIn kills the child after a while, once.
func (k *kid) killIn(after time.Duration) {
	if !k.killed {
		k.killed = true
		time.AfterFunc(after, func() { k.cmd.Process.Kill() })
	}
}

// gone wants the child to have ended by the kill and by nothing else.
func (k *kid) gone(t *testing.T, word string) {
	t.Helper()
	if err := k.cmd.Wait(); err == nil || k.cmd.ProcessState.ExitCode() != -1 || k.fail != "" || k.said[word] == 0 {
		t.Fatalf("the child ended on its own (%v) after %v: %s", err, k.said, k.fail)
	}
}

// reopen opens the folder as the next start does: the lock is free and the start's check passes.
func reopen(t *testing.T, dir string) *work.Desk {
	t.Helper()
	d, err := work.Open(dir, work.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.Close() })
	if err := d.Store.StartCheck(); err != nil {
		t.Fatal(err)
	}
	return d
}
