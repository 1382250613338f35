//go:build linux && amd64

package cut

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"regexp"
	"strings"
	"sync"
	"syscall"
	"time"
)

// escapes are what an emulator's firmware says to a terminal.
var escapes = regexp.MustCompile(`\x1b(c|\[[0-9;?]*[A-Za-z])`)

// A guest is a machine that is switched on.
type guest struct {
	cmd   *exec.Cmd
	lines chan string // whole lines of the console; closed when the machine is gone
	dead  chan struct{}

	mu   sync.Mutex
	tail []string // the last lines of the console, for an error
}

// boot switches the machine on, in a process group of its own: user-mode
// Linux is one process for the kernel, one for its disk and one for each
// program, and a power cut ends them all at once.
func (m *machine) boot(mode string) (*guest, error) {
	m.boots++
	said := append(append([]string{}, m.args...), strings.Fields(mode)...)
	c := exec.Command(m.kernel.image, append([]string{
		"mem=256M",
		"initrd=" + m.path("initramfs"),
		"ubd0=" + m.path("disk"),
		"con=null", "con0=null,fd:1",
		"quiet", "panic=1", "noreboot",
		"uml_dir=" + m.work, fmt.Sprintf("umid=b%d", m.boots),
	}, said...)...)
	if m.kernel.emulator != "" {
		c = exec.Command(m.kernel.emulator, "-accel", "tcg", "-m", "256", "-nographic", "-no-reboot", "-nodefaults", "-serial", "stdio",
			"-kernel", m.kernel.image, "-initrd", m.path("initramfs"), "-drive", "file="+m.path("disk")+",format=raw,if=virtio",
			"-append", "console=ttyS0 quiet panic=-1 "+strings.Join(said, " "))
	}
	c.SysProcAttr = &syscall.SysProcAttr{Setpgid: true}
	c.Env = append(os.Environ(), "TMPDIR="+memoryDir())
	r, w, err := os.Pipe()
	if err != nil {
		return nil, err
	}
	c.Stdout, c.Stderr = w, w
	err = c.Start()
	w.Close()
	if err != nil {
		r.Close()
		return nil, err
	}
	g := &guest{cmd: c, lines: make(chan string, 64), dead: make(chan struct{})}
	go g.listen(r)
	return g, nil
}

// memoryDir is where user-mode Linux keeps the file that is its memory: on
// tmpfs, or every page the guest touches is written to a real disk.
func memoryDir() string {
	const shm = "/dev/shm"
	if st, err := os.Stat(shm); err == nil && st.IsDir() {
		return shm
	}
	return os.TempDir()
}

// listen passes the console on, line by line, until the last process that
// holds its end of the pipe is gone. A last line without its end is not
// passed on: the machine had not finished saying it.
func (g *guest) listen(r *os.File) {
	defer r.Close()
	in := bufio.NewReader(r)
	for {
		line, err := in.ReadString('\n')
		if err != nil {
			break
		}
		line = escapes.ReplaceAllString(strings.TrimRight(line, "\r\n"), "")
		g.mu.Lock()
		if g.tail = append(g.tail, line); len(g.tail) > 30 {
			g.tail = g.tail[1:]
		}
		g.mu.Unlock()
		g.lines <- line
	}
	_ = g.cmd.Wait()
	close(g.dead)
	close(g.lines)
}

// kill cuts the power: the signal ends all processes of the machine, and none
// of them can do anything about it. The lines end when the last one is gone.
func (g *guest) kill() error {
	select {
	case <-g.dead:
		return nil
	default:
	}
	err := syscall.Kill(-g.cmd.Process.Pid, syscall.SIGKILL)
	if err != nil && !errors.Is(err, syscall.ESRCH) {
		return fmt.Errorf("cutting the power: %w", err)
	}
	return nil
}

// off makes sure the machine is gone, whatever became of it before.
func (g *guest) off() {
	_ = g.kill()
	late := time.After(dieTime)
	for {
		select {
		case _, more := <-g.lines:
			if !more {
				return
			}
		case <-late:
			return
		}
	}
}

// fail is an error with the end of the console.
func (g *guest) fail(what string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	if strings.Contains(strings.Join(g.tail, "\n"), "fatal_sigsegv") {
		what += "; user-mode Linux cannot run on this processor: unpack the package of a kernel and name its folder in MVUKE_KERNEL, with qemu-system-x86 installed"
	}
	return fmt.Errorf("%s; the console ended with:\n\t%s", what, strings.Join(g.tail, "\n\t"))
}
