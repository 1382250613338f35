package stick

// Drive is a removable drive that is mounted.
type Drive struct {
	Path     string
	Name     string
	Kind     string // of its file system
	Free     int64  // bytes; -1 where it cannot be told
	ReadOnly bool
}

// Drives lists the removable drives.
func Drives() ([]Drive, error) { return drives() }
