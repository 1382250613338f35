package stick

import (
	"bytes"
	"errors"
	"io"
	"path/filepath"
	"time"
)

// Limits of looking for our files on a drive.
const (
	MostDepth = 4
	MostNames = 10_000
	MostTime  = 5 * time.Second
)

// Found is a file that begins as ours do.
type Found struct {
	Path string
	Size int64
}

// Search is what was found, and whether the search came to its end.
type Search struct {
	Files []Found
	Names int  // looked at
	Cut   bool // a limit was reached: there may be more
}

// Find looks for files that begin with magic, whatever they are called and wherever they lie: an infected stick hides folders and puts other files in
// their place. Links are not followed. Folders are read in pieces, so that a million names cost no memory.
func Find(fsys FS, root string, magic []byte) (s Search, err error) {
	return find(fsys, root, magic, time.Now)
}

func find(fsys FS, root string, magic []byte, now func() time.Time) (s Search, err error) {
	end := now().Add(MostTime)
	type level struct {
		dir   string
		depth int
	}
	queue := []level{{root, 0}}
	for len(queue) > 0 && !s.Cut {
		at := queue[0]
		queue = queue[1:]
		d, err := fsys.OpenDir(at.dir)
		if err != nil {
			if at.depth == 0 {
				return s, named(err)
			}
			continue // a damaged folder hides nothing of the others
		}
		for !s.Cut {
			batch, err := d.ReadDir(256)
			for _, e := range batch {
				if s.Names++; s.Names > MostNames || now().After(end) {
					s.Cut = true
					break
				}
				path := filepath.Join(at.dir, e.Name())
				switch {
				case e.Type().IsDir() && at.depth < MostDepth:
					queue = append(queue, level{path, at.depth + 1})
				case e.Type().IsRegular():
					if size, ok := begins(fsys, path, magic); ok {
						s.Files = append(s.Files, Found{path, size})
					}
				}
			}
			if err != nil {
				break
			}
		}
		d.Close()
	}
	return s, nil
}

// begins says whether a plain file begins with some bytes. It is opened for reading only, and never waited for.
func begins(fsys FS, path string, magic []byte) (size int64, ok bool) {
	f, err := fsys.OpenPlain(path)
	if err != nil {
		return 0, false
	}
	defer f.Close()
	fi, err := f.Stat()
	if err != nil || !fi.Mode().IsRegular() {
		return 0, false
	}
	b := make([]byte, len(magic))
	if _, err := io.ReadFull(f, b); err != nil {
		return 0, false
	}
	return fi.Size(), bytes.Equal(b, magic)
}

// Copy reads a file from a drive into memory, no more than most bytes; the drive may be pulled at any moment.
func Copy(fsys FS, f Found, most int64) ([]byte, error) {
	if f.Size > most {
		return nil, &Trouble{"large", nil}
	}
	in, err := fsys.OpenPlain(f.Path)
	if err != nil {
		return nil, named(err)
	}
	defer in.Close()
	b, err := io.ReadAll(io.LimitReader(in, most+1))
	if err != nil {
		return nil, &Trouble{"gone", err}
	}
	if int64(len(b)) > most {
		return nil, &Trouble{"large", errors.New("it grew while it was read")}
	}
	return b, nil
}
