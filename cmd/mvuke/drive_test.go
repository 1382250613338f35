//go:build realwindow

package main

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"mvuke/app"
)

// window drives the real program on a display of its own, by mouse and keyboard.
type window struct {
	t                              *testing.T
	bin, data, state, trace, shots string
	display, size                  string
	from                           int64
	cmd                            *exec.Cmd
	n                              int
}

// prefix asks click for the first thing whose text begins so.
const prefix = -1

// program is built once for all tests, with the clock that runs fast.
var program = sync.OnceValues(func() (string, error) {
	bin := filepath.Join(os.TempDir(), fmt.Sprintf("mvuke-window-%d", os.Getpid()))
	out, err := exec.Command("go", "build", "-tags", "x11,migrated_fynedo,no_emoji,realwindow", "-o", bin, ".").CombinedOutput()
	if err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	return bin, nil
})

func newWindow(t *testing.T, size string) *window {
	t.Helper()
	for _, tool := range []string{"Xvfb", "xdotool", "import", "identify"} {
		if _, err := exec.LookPath(tool); err != nil {
			t.Skipf("%s is not installed; go run ./cmd/dev test installs it", tool)
		}
	}
	bin, err := program()
	if err != nil {
		t.Fatal(err)
	}
	w := &window{t: t, bin: bin, data: t.TempDir(), state: t.TempDir(), size: size, from: time.Now().Unix()}
	w.shots = os.Getenv("MVUKE_SHOTS")
	if w.shots == "" {
		w.shots = filepath.Join("..", "..", "out", "window")
	}
	if err := os.MkdirAll(w.shots, 0o755); err != nil {
		t.Fatal(err)
	}
	w.serve()
	return w
}

// serve starts a display of our own, with a number that the server finds free, and ends it with the test: by asking, so that it takes its lock away.
func (w *window) serve() {
	w.t.Helper()
	said, say, err := os.Pipe()
	if err != nil {
		w.t.Fatal(err)
	}
	defer said.Close()
	x := exec.Command("Xvfb", "-displayfd", "3", "-screen", "0", "1400x900x24", "-nolisten", "tcp")
	x.ExtraFiles = []*os.File{say} // its file number 3
	if err := errors.Join(x.Start(), say.Close()); err != nil {
		w.t.Fatal(err)
	}
	w.t.Cleanup(func() { x.Process.Signal(syscall.SIGTERM); x.Wait() })
	number, err := bufio.NewReader(said).ReadString('\n')
	if err != nil {
		w.t.Fatalf("Xvfb does not come up: %v", err)
	}
	w.display = ":" + strings.TrimSpace(number)
}

func (w *window) env() []string {
	return append(os.Environ(), "DISPLAY="+w.display, "WAYLAND_DISPLAY=", "LANG=en_US.UTF-8", "FYNE_SCALE=1", "FYNE_DISABLE_DPI_DETECTION=1",
		"MVUKE_STATE="+w.state, "MVUKE_FAST_FROM="+strconv.FormatInt(w.from, 10), "HOME="+w.state)
}

func (w *window) start() {
	w.t.Helper()
	w.n++
	w.trace = filepath.Join(w.state, fmt.Sprintf("trace-%p-%d", w, w.n))
	w.cmd = exec.Command(w.bin, "--data", w.data, "--trace", w.trace, "--size", w.size, "--lang", "en")
	w.cmd.Env = w.env()
	log, err := os.Create(w.trace + ".log")
	if err != nil {
		w.t.Fatal(err)
	}
	w.cmd.Stdout, w.cmd.Stderr = log, log
	if err := w.cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
	cmd := w.cmd
	w.t.Cleanup(func() { cmd.Process.Kill(); cmd.Wait() })
	time.Sleep(1500 * time.Millisecond)
}

// run runs the program to its end.
func (w *window) run(args ...string) {
	w.t.Helper()
	c := exec.Command(w.bin, args...)
	c.Env = append(w.env(), "MVUKE_FAST_FROM=")
	if out, err := c.CombinedOutput(); err != nil {
		w.t.Fatalf("%v\n%s", err, out)
	}
}

func (w *window) kill() {
	w.cmd.Process.Kill()
	w.cmd.Wait()
	b, _ := os.ReadFile(w.trace + ".log")
	if strings.Contains(string(b), "call thread") || strings.Contains(string(b), "panic") {
		w.t.Errorf("%s", b)
	}
}

func (w *window) stop() { w.kill() }

func (w *window) spots() (out []app.Spot) {
	b, err := os.ReadFile(w.trace + ".spots")
	if err == nil {
		_ = json.Unmarshal(b, &out) // a half-written file is read again
	}
	return out
}

func (w *window) find(text string, nth int) (app.Spot, bool) {
	for _, s := range w.spots() {
		if s.Text == text || (nth == prefix && strings.HasPrefix(s.Text, text)) {
			if nth <= 0 {
				return s, true
			}
			nth--
		}
	}
	return app.Spot{}, false
}

func (w *window) has(text string) bool {
	time.Sleep(300 * time.Millisecond)
	_, ok := w.find(text, 0)
	return ok
}

// await finds a thing and brings it into sight.
func (w *window) await(text string, nth int) app.Spot {
	w.t.Helper()
	var height float32
	fmt.Sscanf(w.size[strings.Index(w.size, "x")+1:], "%f", &height)
	for end := time.Now().Add(15 * time.Second); time.Now().Before(end); time.Sleep(250 * time.Millisecond) {
		s, ok := w.find(text, nth)
		if who, asked := w.find("Asha", 0); asked { // three minutes of the fast clock are three seconds
			w.xdo("mousemove", fmt.Sprint(int(who.X+who.W/2)), fmt.Sprint(int(who.Y+who.H/2)), "click", "1")
			continue
		}
		if !ok {
			continue
		}
		switch y := s.Y + s.H/2; {
		case y > height-30:
			w.xdo("mousemove", "560", "420", "click", "5")
		case y < 40:
			w.xdo("mousemove", "560", "420", "click", "4")
		default:
			return s
		}
		time.Sleep(900 * time.Millisecond) // the next record of where things lie
	}
	w.picture("lost")
	events, _ := os.ReadFile(w.trace)
	w.t.Fatalf("%q is not on the screen; there are: %+v\nevents:\n%s", text, w.spots(), events)
	return app.Spot{}
}

func (w *window) xdo(args ...string) {
	w.t.Helper()
	c := exec.Command("xdotool", args...)
	c.Env = w.env()
	if out, err := c.CombinedOutput(); err != nil {
		w.t.Fatalf("xdotool %v: %v %s", args, err, out)
	}
}

func (w *window) click(text string, nth int) {
	w.t.Helper()
	s := w.await(text, nth)
	w.xdo("mousemove", fmt.Sprint(int(s.X+s.W/2)), fmt.Sprint(int(s.Y+s.H/2)), "click", "1")
	time.Sleep(500 * time.Millisecond)
}

// fill types into the field with a label, which stands above it.
func (w *window) fill(label, text string) {
	w.t.Helper()
	for range 4 {
		s := w.await(label, 0)
		w.xdo("mousemove", fmt.Sprint(int(s.X+s.W-20)), fmt.Sprint(int(s.Y+min(s.H, 70)*0.7)), "click", "1")
		time.Sleep(400 * time.Millisecond)
		w.xdo("key", "ctrl+a")
		w.xdo("type", "--delay", "12", text)
		for range 12 {
			time.Sleep(250 * time.Millisecond)
			if now, ok := w.find(label, 0); ok && now.Value == text {
				return
			}
		}
	}
	w.picture("lost")
	w.t.Fatalf("%q does not take %q", label, text)
}

// picture keeps what stands on the display.
func (w *window) picture(name string) {
	time.Sleep(500 * time.Millisecond)
	var x, y int
	fmt.Sscanf(w.size, "%dx%d", &x, &y)
	c := exec.Command("import", "-window", "root", "-crop", fmt.Sprintf("%dx%d+0+0", x, y), filepath.Join(w.shots, name+".png"))
	c.Env = w.env()
	if out, err := c.CombinedOutput(); err != nil {
		w.t.Errorf("%v %s", err, out)
	}
}

func colours(t *testing.T, path string) int {
	out, err := exec.Command("identify", "-format", "%k", path).Output()
	if err != nil {
		t.Errorf("%s: %v", path, err)
	}
	n, _ := strconv.Atoi(string(out))
	return n
}
