-- A row says which entry is about which noun.
CREATE TABLE target (
	noun BLOB    NOT NULL,
	pos  INTEGER NOT NULL,
	PRIMARY KEY (noun, pos)
) STRICT, WITHOUT ROWID;

-- A row says which entry corrects which.
CREATE TABLE amends (
	original BLOB    NOT NULL,
	pos      INTEGER NOT NULL,
	PRIMARY KEY (original, pos)
) STRICT, WITHOUT ROWID;

-- A row is a noun's folded hash; the digest of the register is their sum.
CREATE TABLE noun (
	ref  BLOB PRIMARY KEY,
	hash BLOB NOT NULL
) STRICT, WITHOUT ROWID;

-- A row is a cycle, for lists.
CREATE TABLE cycle (
	ref     BLOB PRIMARY KEY,
	pot     BLOB    NOT NULL,
	number  INTEGER NOT NULL,
	pos     INTEGER NOT NULL,
	settled INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX cycle_open ON cycle (settled, pos);
CREATE INDEX cycle_pot ON cycle (pot, pos);

-- A row is one figure about these tables.
CREATE TABLE mark (
	name  TEXT PRIMARY KEY,
	value BLOB NOT NULL
) STRICT, WITHOUT ROWID;
