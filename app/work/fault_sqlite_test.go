package work_test

import (
	"sync"
	"unsafe"

	"modernc.org/libc"
	sqlite3 "modernc.org/sqlite/lib"
)

// SQLite opens its own files and never asks our file system; the hook that its driver offers is read-only. So this stands between SQLite and the
// one that it would use: the same methods, each of which asks the faults of the running try before it does anything. It is the default for the
// whole process and passes everything through while no fault is tried. During a try nothing is synced: no test that uses it cuts the power.

// under is what is to fail in SQLite; nil: nothing.
var under *faults

// methods is SQLite's table for one kind of file, with the one that it was made from.
type methods struct {
	sqlite3.Tsqlite3_io_methods
	real uintptr // to another
}

var (
	system *sqlite3.Tsqlite3_vfs
	kinds  = map[uintptr]uintptr{} // from SQLite's table to ours
)

func at[T any](p uintptr) *T { return (*T)(*(*unsafe.Pointer)(unsafe.Pointer(&p))) }

// outside is room where SQLite has its own things: it knows addresses, and Go may not see them as its own. It is never given back.
func outside[T any](tls *libc.TLS) uintptr {
	var x T
	p := libc.Xmalloc(tls, libc.Tsize_t(unsafe.Sizeof(x)))
	if p == 0 {
		panic("no memory")
	}
	return p
}

// call reads a method that lies in a table as an address, and put writes one.
func call[F any](p *uintptr) F    { return *(*F)(unsafe.Pointer(p)) }
func put[F any](p *uintptr, do F) { *(*F)(unsafe.Pointer(p)) = do }

func fails(op string) bool { return under != nil && under.count(op, true) != nil }

func real(file uintptr) *sqlite3.Tsqlite3_io_methods {
	return at[sqlite3.Tsqlite3_io_methods](at[methods](at[sqlite3.Tsqlite3_file](file).FpMethods).real)
}

// underSQLite puts it in place, once.
var underSQLite = sync.OnceFunc(func() {
	tls := libc.NewTLS()
	sqlite3.Xsqlite3_initialize(tls)
	system = at[sqlite3.Tsqlite3_vfs](sqlite3.Xsqlite3_vfs_find(tls, 0))
	mine := outside[sqlite3.Tsqlite3_vfs](tls)
	shim := at[sqlite3.Tsqlite3_vfs](mine)
	*shim = *system
	name, err := libc.CString("faulty")
	if err != nil {
		panic(err)
	}
	shim.FzName = name
	put(&shim.FxOpen, opensFile)
	put(&shim.FxDelete, deletes)
	put(&shim.FxAccess, accesses)
	if rc := sqlite3.Xsqlite3_vfs_register(tls, mine, 1); rc != sqlite3.SQLITE_OK {
		panic(rc)
	}
})

type (
	opener   = func(*libc.TLS, uintptr, uintptr, uintptr, int32, uintptr) int32
	deleter  = func(*libc.TLS, uintptr, uintptr, int32) int32
	accesser = func(*libc.TLS, uintptr, uintptr, int32, uintptr) int32
	mover    = func(*libc.TLS, uintptr, uintptr, int32, int64) int32
	cutter   = func(*libc.TLS, uintptr, int64) int32
	syncer   = func(*libc.TLS, uintptr, int32) int32
	sharer   = func(*libc.TLS, uintptr, int32, int32, int32, uintptr) int32
)

func opensFile(tls *libc.TLS, vfs, name, file uintptr, flags int32, out uintptr) int32 {
	at[sqlite3.Tsqlite3_file](file).FpMethods = 0
	if fails("sqlite open") {
		return sqlite3.SQLITE_CANTOPEN
	}
	rc := call[opener](&system.FxOpen)(tls, vfs, name, file, flags, out)
	f := at[sqlite3.Tsqlite3_file](file)
	if f.FpMethods == 0 {
		return rc
	}
	table := kinds[f.FpMethods]
	if table == 0 {
		table = outside[methods](tls)
		m := at[methods](table)
		*m = methods{*at[sqlite3.Tsqlite3_io_methods](f.FpMethods), f.FpMethods}
		put(&m.FxRead, reads)
		put(&m.FxWrite, writes)
		put(&m.FxTruncate, truncates)
		put(&m.FxSync, syncs)
		put(&m.FxShmMap, shares)
		kinds[f.FpMethods] = table
	}
	f.FpMethods = table
	return rc
}

func deletes(tls *libc.TLS, vfs, name uintptr, sync int32) int32 {
	if fails("sqlite delete") {
		return sqlite3.SQLITE_IOERR_DELETE
	}
	return call[deleter](&system.FxDelete)(tls, vfs, name, sync)
}

func accesses(tls *libc.TLS, vfs, name uintptr, flags int32, out uintptr) int32 {
	if fails("sqlite access") {
		return sqlite3.SQLITE_IOERR_ACCESS
	}
	return call[accesser](&system.FxAccess)(tls, vfs, name, flags, out)
}

func reads(tls *libc.TLS, file, buf uintptr, n int32, off int64) int32 {
	if fails("sqlite read") {
		return sqlite3.SQLITE_IOERR_READ
	}
	return call[mover](&real(file).FxRead)(tls, file, buf, n, off)
}

func writes(tls *libc.TLS, file, buf uintptr, n int32, off int64) int32 {
	if fails("sqlite write") {
		call[mover](&real(file).FxWrite)(tls, file, buf, n/2, off) // a short write, as on a full disk
		return sqlite3.SQLITE_FULL
	}
	return call[mover](&real(file).FxWrite)(tls, file, buf, n, off)
}

func truncates(tls *libc.TLS, file uintptr, size int64) int32 {
	if fails("sqlite truncate") {
		return sqlite3.SQLITE_IOERR_TRUNCATE
	}
	return call[cutter](&real(file).FxTruncate)(tls, file, size)
}

func syncs(tls *libc.TLS, file uintptr, flags int32) int32 {
	switch {
	case fails("sqlite sync"):
		return sqlite3.SQLITE_IOERR_FSYNC
	case under != nil:
		return sqlite3.SQLITE_OK
	}
	return call[syncer](&real(file).FxSync)(tls, file, flags)
}

func shares(tls *libc.TLS, file uintptr, region, size, extend int32, out uintptr) int32 {
	if fails("sqlite share") {
		return sqlite3.SQLITE_IOERR_SHMMAP
	}
	return call[sharer](&real(file).FxShmMap)(tls, file, region, size, extend, out)
}
