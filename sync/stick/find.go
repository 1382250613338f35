package stick

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"path/filepath"
	"time"
)

// Limits of looking for our files on a drive.
const (
	MostDepth = 4
	MostNames = 10_000
	MostTime  = 5 * time.Second

	MostUnread = 20 // listed by name
)

// Found is a file that begins as ours do.
type Found struct {
	Path string
	Size int64
}

// Search is what was found, and whether the search came to its end.
type Search struct {
	Files  []Found
	Unread []string // files and folders of which nobody can say what is in them; the first of them
	Names  int      // looked at
	Cut    bool     // a limit was reached: there may be more
}

// Find looks for files that begin with magic, whatever they are called and wherever they lie: an infected stick hides folders and puts other files in
// their place. Links are not followed. Folders are read in pieces, so that a million names cost no memory. What cannot be read is told by name: it may hold ours.
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
				return s, unreadable(err)
			}
			s.cannot(at.dir, err) // a damaged folder hides nothing of the others
			continue
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
					size, ok, err := begins(fsys, path, magic)
					if ok {
						s.Files = append(s.Files, Found{path, size})
					}
					s.cannot(path, err)
				}
			}
			if err == io.EOF {
				break
			}
			if err != nil && at.depth == 0 {
				d.Close()
				return s, unreadable(err)
			}
			if err != nil {
				s.cannot(at.dir, err)
				break
			}
		}
		d.Close()
	}
	return s, nil
}

// cannot notes what could not be read. What a system keeps for itself and locks holds nothing of ours.
func (s *Search) cannot(path string, err error) {
	name := filepath.Base(path)
	own := errors.Is(err, fs.ErrPermission) && (name == "lost+found" || name == "System Volume Information")
	if err != nil && !own && len(s.Unread) < MostUnread {
		s.Unread = append(s.Unread, path)
	}
}

// unreadable is named for what was to be read.
func unreadable(err error) error {
	if errors.Is(err, fs.ErrNotExist) {
		return &Trouble{"gone", err}
	}
	return &Trouble{"read", err}
}

// begins says whether a plain file begins with some bytes. It is opened for reading only, and never waited for.
func begins(fsys FS, path string, magic []byte) (size int64, ok bool, err error) {
	f, err := fsys.OpenPlain(path)
	if err != nil {
		return 0, false, err
	}
	defer f.Close()
	fi, err := f.Stat()
	if err != nil || !fi.Mode().IsRegular() {
		return 0, false, err
	}
	b := make([]byte, len(magic))
	if _, err := io.ReadFull(f, b); err != nil {
		if err == io.EOF || err == io.ErrUnexpectedEOF { // shorter than ours
			err = nil
		}
		return 0, false, err
	}
	return fi.Size(), bytes.Equal(b, magic), nil
}

// Copy reads a file from a drive into memory, no more than most bytes; the drive may be pulled at any moment.
func Copy(fsys FS, f Found, most int64) ([]byte, error) {
	if f.Size > most {
		return nil, &Trouble{"large", nil}
	}
	in, err := fsys.OpenPlain(f.Path)
	if err != nil {
		return nil, unreadable(err)
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
