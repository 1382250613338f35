//go:build linux && amd64

package cut

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
)

// A kernel is what the machine of a trial runs on: user-mode Linux, or an ordinary kernel in an emulator, which is slower and runs on any processor.
type kernel struct {
	image    string
	emulator string // path of qemu; empty: user-mode Linux
	modules  string // folder of its modules
	disk     string // what it calls the disk under test
}

// kernelDir is where an ordinary kernel is looked for: MVUKE_KERNEL names the folder of an unpacked package of one, with boot and lib/modules in it.
func kernelDir() string {
	if dir := os.Getenv("MVUKE_KERNEL"); dir != "" {
		return dir
	}
	return "/"
}

// findKernel prefers the emulator where MVUKE_KERNEL asks for it; else user-mode Linux, else the emulator.
func findKernel() (kernel, error) {
	emulated, err := emulatedKernel()
	if err == nil && os.Getenv("MVUKE_KERNEL") != "" {
		return emulated, nil
	}
	for _, name := range []string{"linux.uml", "linux"} {
		if path, e := exec.LookPath(name); e == nil {
			found, _ := filepath.Glob("/usr/lib/uml/modules/*/kernel")
			return kernel{image: path, modules: last(found), disk: "/dev/ubda"}, nil
		}
	}
	if err != nil {
		return kernel{}, errors.New("no user-mode Linux: apt-get install user-mode-linux; or qemu-system-x86 and a package of a kernel, unpacked, in MVUKE_KERNEL")
	}
	return emulated, nil
}

func emulatedKernel() (kernel, error) {
	qemu, err := exec.LookPath("qemu-system-x86_64")
	if err != nil {
		return kernel{}, err
	}
	images, _ := filepath.Glob(filepath.Join(kernelDir(), "boot/vmlinuz-*"))
	modules, _ := filepath.Glob(filepath.Join(kernelDir(), "lib/modules/*/kernel"))
	if len(images) == 0 || len(modules) == 0 {
		return kernel{}, errors.New("no kernel")
	}
	return kernel{last(images), qemu, last(modules), "/dev/vda"}, nil
}

func last(names []string) string {
	if len(names) == 0 {
		return ""
	}
	return names[len(names)-1]
}

// needs are the modules that a trial needs, in the order in which they are to be loaded.
func (k kernel) needs(fat bool) (out []string) {
	if k.emulator != "" {
		for _, m := range []string{"virtio_ring", "virtio", "virtio_pci_legacy_dev", "virtio_pci_modern_dev", "virtio_pci"} {
			out = append(out, "drivers/virtio/"+m+".ko")
		}
		out = append(out, "drivers/block/virtio_blk.ko")
	}
	if fat {
		out = append(out, "fs/fat/fat.ko", "fs/nls/nls_cp437.ko", "fs/nls/nls_iso8859-1.ko", "fs/fat/vfat.ko")
	}
	return out
}

// load reads modules.
func (k kernel) load(names []string) (out [][]byte, err error) {
	for _, name := range names {
		b, err := os.ReadFile(filepath.Join(k.modules, name))
		if err != nil {
			return nil, errors.New("the kernel's module " + name + " is not there: " + err.Error())
		}
		out = append(out, b)
	}
	return out, nil
}
