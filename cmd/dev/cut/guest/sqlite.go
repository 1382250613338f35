//go:build linux

package main

import (
	"database/sql"
	"fmt"
	"net/url"
	"path/filepath"
	"strings"

	_ "modernc.org/sqlite"
)

// sqliteLedger keeps one row of about 300 bytes for each act, in a database
// in WAL mode.
type sqliteLedger struct{ db *sql.DB }

func openSQLite(s settings) (ledger, error) {
	q := url.Values{"_pragma": {
		"journal_mode(WAL)",
		"synchronous(" + s["sync"] + ")",
		"wal_autocheckpoint(" + s["checkpoint"] + ")",
	}}
	db, err := sql.Open("sqlite", "file:"+filepath.Join(s["data"], "cut.db")+"?"+q.Encode())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	l := &sqliteLedger{db}
	if err := l.prepare(s["sync"]); err != nil {
		db.Close()
		return nil, err
	}
	return l, nil
}

// prepare makes the table, and makes sure the settings under test are truly
// in force: a run with the wrong ones would prove nothing.
func (l *sqliteLedger) prepare(sync string) error {
	var mode string
	if err := l.db.QueryRow("PRAGMA journal_mode").Scan(&mode); err != nil {
		return err
	}
	if mode != "wal" {
		return fmt.Errorf("journal_mode is %q, not wal", mode)
	}
	var level int
	if err := l.db.QueryRow("PRAGMA synchronous").Scan(&level); err != nil {
		return err
	}
	want, ok := map[string]int{"OFF": 0, "NORMAL": 1, "FULL": 2, "EXTRA": 3}[sync]
	if !ok || level != want {
		return fmt.Errorf("synchronous is %d, asked for %q", level, sync)
	}
	_, err := l.db.Exec("CREATE TABLE IF NOT EXISTS act (n INTEGER PRIMARY KEY, body TEXT NOT NULL)")
	return err
}

// body is what act n must contain: 300 bytes that differ from act to act.
func body(n int) string {
	return strings.Repeat(fmt.Sprintf("act %010d %014d.", n, n*7919), 10)
}

func (l *sqliteLedger) Append(n int) error {
	_, err := l.db.Exec("INSERT INTO act (n, body) VALUES (?, ?)", n, body(n))
	return err
}

func (l *sqliteLedger) Have() (int, error) {
	rows, err := l.db.Query("SELECT n FROM act ORDER BY n")
	if err != nil {
		return 0, err
	}
	defer rows.Close()
	have := 0
	for rows.Next() {
		var n int
		if err := rows.Scan(&n); err != nil {
			return have, err
		}
		if n != have+1 {
			return have, fmt.Errorf("act %d is missing, act %d is there", have+1, n)
		}
		have = n
	}
	return have, rows.Err()
}

func (l *sqliteLedger) Check() error {
	var verdict string
	if err := l.db.QueryRow("PRAGMA integrity_check(1)").Scan(&verdict); err != nil {
		return err
	}
	if verdict != "ok" {
		return fmt.Errorf("integrity_check: %s", verdict)
	}
	rows, err := l.db.Query("SELECT n, body FROM act")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var n int
		var b string
		if err := rows.Scan(&n, &b); err != nil {
			return err
		}
		if b != body(n) {
			return fmt.Errorf("act %d has another content", n)
		}
	}
	return rows.Err()
}

func (l *sqliteLedger) Close() error { return l.db.Close() }
