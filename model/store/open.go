package store

import (
	"database/sql"
	_ "embed"
	"errors"
	"fmt"
	"net/url"
	"path/filepath"

	_ "modernc.org/sqlite" // the driver "sqlite"
)

// Names of the files.
const (
	RegisterFile = "register.db"
	ViewsFile    = "views.db"
	DraftsFile   = "drafts.db"
	WaitingFile  = "waiting.db"
)

const (
	applicationID = 0x4d56554b // "MVUK"
	schemaVersion = 1
)

// ErrNewer says that the register was written by a newer version of the program.
var ErrNewer = errors.New("store: the register is from a newer version of the program")

// ErrForeign says that the file is not a register of this program.
var ErrForeign = errors.New("store: the file is not a register")

// pragmas hold for every connection, so they stand in the connection string. FULL: measured,
// NORMAL loses acknowledged acts in a power cut.
func pragmas(sync string) url.Values {
	q := url.Values{"_txlock": {"immediate"}}
	for _, p := range []string{
		"busy_timeout(5000)", "journal_mode(WAL)", "synchronous(" + sync + ")", "fullfsync(1)", "checkpoint_fullfsync(1)",
		"foreign_keys(1)", "trusted_schema(0)", "cell_size_check(1)", "mmap_size(0)", "temp_store(MEMORY)",
		"journal_size_limit(16777216)", "cache_size(-4000)",
	} {
		q.Add("_pragma", p)
	}
	return q
}

func dsn(path, sync string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = path
	}
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: pragmas(sync).Encode()}
	return u.String()
}

// copyDSN opens a file that nobody writes, touching nothing.
func copyDSN(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		abs = path
	}
	q := url.Values{"mode": {"ro"}, "immutable": {"1"}, "_pragma": {"trusted_schema(0)", "cell_size_check(1)", "query_only(1)"}}
	u := url.URL{Scheme: "file", Path: filepath.ToSlash(abs), RawQuery: q.Encode()}
	return u.String()
}

//go:embed register.sql
var registerSQL string

//go:embed views.sql
var viewsSQL string

//go:embed waiting.sql
var waitingSQL string

//go:embed drafts.sql
var draftsSQL string

// openFile opens one database with one connection and makes its tables in a new file.
func openFile(path, sync, schema string) (*sql.DB, error) {
	db, err := sql.Open("sqlite", dsn(path, sync))
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	if err := prepare(db, schema); err != nil {
		return nil, errors.Join(err, db.Close())
	}
	return db, nil
}

func prepare(db *sql.DB, schema string) error {
	var version, app, tables int
	err := errors.Join(
		db.QueryRow("PRAGMA user_version").Scan(&version),
		db.QueryRow("PRAGMA application_id").Scan(&app),
		db.QueryRow("SELECT count(*) FROM sqlite_master").Scan(&tables))
	switch {
	case err != nil:
		return fmt.Errorf("store: %w", err)
	case tables > 0 && app != applicationID:
		return ErrForeign
	case version > schemaVersion:
		return ErrNewer
	case tables > 0:
		return nil
	}
	tx, err := db.Begin()
	if err != nil {
		return err
	}
	defer tx.Rollback()
	if _, err := tx.Exec(schema); err != nil {
		return fmt.Errorf("store: %w", err)
	}
	if _, err := tx.Exec(fmt.Sprintf("PRAGMA application_id = %d; PRAGMA user_version = %d", applicationID, schemaVersion)); err != nil {
		return fmt.Errorf("store: %w", err)
	}
	return tx.Commit()
}
