package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"syscall"
	"time"
)

// A screen is one in memory that nobody else uses or sees.
type screen struct {
	display string
	server  *exec.Cmd
}

// errNoXvfb says that there can be no screen in memory here.
var errNoXvfb = errors.New("there is no Xvfb here, the X server that draws into memory; it is in the package xvfb of Debian and Ubuntu")

// openScreen starts an X server of size, as 1024x600. The server itself finds
// a free display number and says which: to look for one beforehand would race
// with others who do the same.
func openScreen(ctx context.Context, size string) (*screen, error) {
	path, err := exec.LookPath("Xvfb")
	if err != nil || runtime.GOOS == "windows" {
		return nil, errNoXvfb
	}
	r, w, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	var log strings.Builder
	c := newCommand(ctx, nil, path, "-displayfd", "3", "-screen", "0", size+"x24", "-nolisten", "tcp", "-noreset")
	c.ExtraFiles = []*os.File{w}
	c.Stderr = &log
	err = c.Start()
	w.Close()
	if err != nil {
		return nil, fmt.Errorf("%s does not start: %w", path, err)
	}
	s := &screen{server: c}
	r.SetReadDeadline(time.Now().Add(30 * time.Second))
	number, err := readLine(r)
	if err != nil {
		s.close()
		return nil, fmt.Errorf("%s opened no screen: %w; it said: %s", path, err, strings.TrimSpace(log.String()))
	}
	s.display = ":" + number
	return s, nil
}

// readLine takes one line, however many pieces it arrives in.
func readLine(r io.Reader) (string, error) {
	var line strings.Builder
	for b := make([]byte, 1); ; {
		if _, err := r.Read(b); err != nil {
			return "", err
		}
		if b[0] == '\n' {
			return strings.TrimSpace(line.String()), nil
		}
		line.Write(b)
	}
}

// env points a program at this screen and no other, has it drawn in software
// as on a computer without a graphics card, and keeps it away from the
// developer's own register.
func (s *screen) env(home string) []string {
	return []string{
		"DISPLAY=" + s.display, "WAYLAND_DISPLAY=", "LIBGL_ALWAYS_SOFTWARE=1",
		"MVUKE_DATA=" + home + "/data", "MVUKE_STATE=" + home + "/state",
	}
}

// close ends the server, with time to remove the files it locked its number
// with.
func (s *screen) close() {
	s.server.Process.Signal(syscall.SIGTERM)
	kill := time.AfterFunc(5*time.Second, func() { s.server.Process.Kill() })
	defer kill.Stop()
	s.server.Wait()
}
