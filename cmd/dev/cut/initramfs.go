//go:build linux && amd64

package cut

import (
	"bytes"
	"fmt"
)

// initramfs packs a program as /init, with nothing else but the console it
// speaks on and modules for its kernel, in the "newc" form of cpio the kernel unpacks at boot.
func initramfs(program []byte, modules ...[]byte) []byte {
	var b bytes.Buffer
	inode := 0
	add := func(name string, mode, major, minor int, data []byte) {
		inode++
		// magic, inode, mode, uid, gid, links, mtime, size, device of the
		// file system, device of the node, length of the name, checksum
		fmt.Fprintf(&b, "070701%08x%08x%08x%08x%08x%08x%08x%08x%08x%08x%08x%08x%08x",
			inode, mode, 0, 0, 1, 0, len(data), 0, 0, major, minor, len(name)+1, 0)
		b.WriteString(name)
		b.WriteByte(0)
		pad(&b)
		b.Write(data)
		pad(&b)
	}
	const dir, node, file = 0o040755, 0o020600, 0o100755
	add("dev", dir, 0, 0, nil)
	add("dev/console", node, 5, 1, nil)
	add("init", file, 0, 0, program)
	if len(modules) > 0 {
		add("modules", dir, 0, 0, nil)
	}
	for i, m := range modules { // in the order in which they are to be loaded
		add(fmt.Sprintf("modules/%d.ko", i), file, 0, 0, m)
	}
	add("TRAILER!!!", 0, 0, 0, nil)
	return b.Bytes()
}

// pad fills up to a multiple of four bytes.
func pad(b *bytes.Buffer) {
	for b.Len()%4 != 0 {
		b.WriteByte(0)
	}
}
