package store

import (
	"database/sql"
	"errors"
)

// preparedTx is a transaction that reads each text of SQL once: thousands of rows are written by the same few.
type preparedTx struct {
	*sql.Tx
	read map[string]*sql.Stmt
}

func begin(db *sql.DB) (*preparedTx, error) {
	tx, err := db.Begin()
	return &preparedTx{tx, map[string]*sql.Stmt{}}, err
}

func (t *preparedTx) of(q string) (*sql.Stmt, error) {
	if s, ok := t.read[q]; ok {
		return s, nil
	}
	s, err := t.Prepare(q)
	if err == nil {
		t.read[q] = s
	}
	return s, err
}

// Exec does a statement.
func (t *preparedTx) Exec(q string, args ...any) (sql.Result, error) {
	s, err := t.of(q)
	if err != nil {
		return nil, err
	}
	return s.Exec(args...)
}

// Query asks for rows. Those of one text are closed before it is asked again.
func (t *preparedTx) Query(q string, args ...any) (*sql.Rows, error) {
	s, err := t.of(q)
	if err != nil {
		return nil, err
	}
	return s.Query(args...)
}

// QueryRow asks for a row.
func (t *preparedTx) QueryRow(q string, args ...any) *sql.Row {
	s, err := t.of(q)
	if err != nil { // says what is wrong with it when it is read
		return t.Tx.QueryRow(q, args...)
	}
	return s.QueryRow(args...)
}

// shut closes the statements and gives up what was not committed.
func (t *preparedTx) shut() error {
	var errs []error
	for _, s := range t.read {
		errs = append(errs, s.Close())
	}
	if err := t.Rollback(); !errors.Is(err, sql.ErrTxDone) {
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// preparedDB reads each text of SQL once, for as long as the file is open.
type preparedDB struct {
	db   *sql.DB
	read map[string]*sql.Stmt
}

// Query asks for rows.
func (p *preparedDB) Query(q string, args ...any) (*sql.Rows, error) {
	s, ok := p.read[q]
	if !ok {
		var err error
		if s, err = p.db.Prepare(q); err != nil {
			return nil, err
		}
		if p.read == nil {
			p.read = map[string]*sql.Stmt{}
		}
		p.read[q] = s
	}
	return s.Query(args...)
}
