package app

import (
	"encoding/binary"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"sync"
)

// The toolkit has no sound. A short tone is handed to the player that the system has;
// where there is none, the screen still calls.

var tone = sync.OnceValue(func() string {
	const rate, seconds = 16000, 0.9
	n := int(rate * seconds)
	b := make([]byte, 44+2*n)
	copy(b, "RIFF")
	binary.LittleEndian.PutUint32(b[4:], uint32(36+2*n))
	copy(b[8:], "WAVEfmt ")
	binary.LittleEndian.PutUint32(b[16:], 16)
	binary.LittleEndian.PutUint16(b[20:], 1)
	binary.LittleEndian.PutUint16(b[22:], 1)
	binary.LittleEndian.PutUint32(b[24:], rate)
	binary.LittleEndian.PutUint32(b[28:], 2*rate)
	binary.LittleEndian.PutUint16(b[32:], 2)
	binary.LittleEndian.PutUint16(b[34:], 16)
	copy(b[36:], "data")
	binary.LittleEndian.PutUint32(b[40:], uint32(2*n))
	for i := range n {
		t := float64(i) / rate
		gate := 1.0
		if math.Mod(t, 0.3) > 0.2 { // three pulses
			gate = 0
		}
		v := int16(26000 * gate * math.Sin(2*math.Pi*1900*t))
		binary.LittleEndian.PutUint16(b[44+2*i:], uint16(v))
	}
	path := filepath.Join(os.TempDir(), "mvuke-tone.wav")
	if os.WriteFile(path, b, 0o600) != nil {
		return ""
	}
	return path
})

func (s *Shell) beep() {
	s.note("beep")
	if s.o.Quiet {
		return
	}
	go func() {
		path := tone()
		if path == "" {
			return
		}
		players := [][]string{{"paplay", path}, {"pw-play", path}, {"aplay", "-q", path}}
		switch runtime.GOOS {
		case "darwin":
			players = [][]string{{"afplay", path}}
		case "windows":
			players = [][]string{{"powershell", "-NoProfile", "-Command", "(New-Object Media.SoundPlayer '" + path + "').PlaySync()"}}
		}
		for _, p := range players {
			if exec.Command(p[0], p[1:]...).Run() == nil {
				return
			}
		}
	}()
}

// open hands a file to the system's viewer.
func (s *Shell) open(path string) {
	if s.o.Quiet {
		return
	}
	c := exec.Command("xdg-open", path)
	switch runtime.GOOS {
	case "darwin":
		c = exec.Command("open", path)
	case "windows":
		c = exec.Command("rundll32", "url.dll,FileProtocolHandler", path)
	}
	if err := c.Start(); err == nil {
		go func() { _ = c.Wait() }() // its end is nobody's business
	}
}
