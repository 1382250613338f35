-- A row is one signed entry as it was written or received. Never changed, never removed.
CREATE TABLE entry (
	pos     INTEGER PRIMARY KEY,          -- order of arrival here; means nothing elsewhere
	id      BLOB    NOT NULL UNIQUE,      -- SHA-256 of the body
	stream  BLOB    NOT NULL,
	seq     INTEGER NOT NULL,
	kind    INTEGER NOT NULL,
	lamport INTEGER NOT NULL,
	body    BLOB    NOT NULL,
	key     BLOB    NOT NULL,
	sig     BLOB    NOT NULL
) STRICT;
CREATE INDEX entry_stream ON entry (stream, seq);
CREATE INDEX entry_kind ON entry (kind, pos);
-- The index entry_said comes when a register is opened (bykind.go).
CREATE TRIGGER entry_stays BEFORE UPDATE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;
CREATE TRIGGER entry_kept BEFORE DELETE ON entry BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;

-- A row is one fact about this copy of the register.
CREATE TABLE mine (
	name  TEXT PRIMARY KEY,
	value BLOB NOT NULL
) STRICT, WITHOUT ROWID;
