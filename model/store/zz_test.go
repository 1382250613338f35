package store
import ("testing";"os";"path/filepath";"errors";"modernc.org/sqlite")
func TestZZ(t *testing.T){
	dir := smallDisk(t, 6<<20)
	w := found(t, dir)
	w.cycle(1)
	w.s.Close()
	f,_ := os.Create(filepath.Join(dir,"glut"))
	for { if _,err := f.Write(make([]byte,1)); err!=nil { t.Log(err); break } }
	f.Close()
	s, err := Open(dir, Options{})
	var e *sqlite.Error
	if errors.As(err,&e) { t.Log(e.Code(), e.Code()&0xff) }
	t.Log(err)
	if err==nil { t.Log(note(s,w.dev,1)); s.Close() }
	ds, _ := os.ReadDir(dir)
	for _, d := range ds { fi, _ := d.Info(); t.Log(d.Name(), fi.Size()) }
}
