package store

import (
	"database/sql"
	"path/filepath"
	"testing"

	"mvuke/model"
	"mvuke/model/entry"
)

// BenchmarkAppend is one act made durable: signed, committed with full sync, read tables caught up.
func BenchmarkAppend(b *testing.B) {
	w := found(b, b.TempDir())
	refs := cycleRefs(1)
	for i := 0; b.Loop(); i++ {
		refs[0].ID[2], refs[0].ID[3] = byte(i/20), byte(i/5120) // some twenty entries a cycle
		w.sign(w.dev, entry.Draft{Kind: model.KindReadings, Targets: refs[:1:1], Payload: model.Readings{List: []model.Reading{{At: 1, NeedleMilli: 140_000}}}})
	}
}

// BenchmarkAppendBaseline is a bare commit of a row of the same size with the same pragmas.
func BenchmarkAppendBaseline(b *testing.B) {
	db, err := sql.Open("sqlite", dsn(filepath.Join(b.TempDir(), "bare.db"), "FULL"))
	if err != nil {
		b.Fatal(err)
	}
	defer db.Close()
	db.SetMaxOpenConns(1)
	if _, err := db.Exec("CREATE TABLE t (id INTEGER PRIMARY KEY, body BLOB)"); err != nil {
		b.Fatal(err)
	}
	body := make([]byte, 400)
	for b.Loop() {
		if _, err := db.Exec("INSERT INTO t (body) VALUES (?)", body); err != nil {
			b.Fatal(err)
		}
	}
}
