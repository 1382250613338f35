-- A row says which entry counts in the fold of which noun; what tells nothing of a pot is left out of its fold.
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
	settled INTEGER NOT NULL,
	site    BLOB    NOT NULL,   -- where it was run; zeros: nobody who may has told
	gauge   BLOB    NOT NULL,   -- that it was watched by; zeros: it was told of with several
	shared  INTEGER NOT NULL,   -- 1: another site than that where it was run says that it is its own
	begun   INTEGER NOT NULL,   -- wall, ms, by the device that lit it
	sure    INTEGER NOT NULL    -- 1: that date is not in doubt
) STRICT, WITHOUT ROWID;
CREATE INDEX cycle_gauge ON cycle (gauge);
CREATE INDEX cycle_begun ON cycle (site, sure, begun);
CREATE INDEX cycle_shared ON cycle (shared) WHERE shared = 1;
CREATE INDEX cycle_open ON cycle (site, settled, pos);
CREATE INDEX cycle_site ON cycle (site, pos);
CREATE INDEX cycle_pot ON cycle (pot, pos);

-- A row is a pack, for finding and for lists. What is inherited (holds on its load) is never stored.
CREATE TABLE pack (
	n       INTEGER PRIMARY KEY,
	ref     BLOB    NOT NULL UNIQUE,
	label   TEXT    NOT NULL,   -- letters and digits only, upper case
	words   TEXT    NOT NULL,   -- label as written, bare, and set, lower case, for search by any part
	prefix  TEXT    NOT NULL,   -- of numbers made here; empty: written down with its load only
	counter INTEGER NOT NULL,
	load    BLOB,               -- latest cycle that it went into
	live    INTEGER NOT NULL,   -- 1: neither opened nor spoilt
	missing INTEGER NOT NULL,   -- 1: a piece did not come back, and nobody knows where it is
	pos     INTEGER NOT NULL,
	here    BLOB    NOT NULL,   -- site where it lies: where it was made, until it was sent to another
	others  INTEGER NOT NULL    -- 1: another site than that where it lies says that it made it
) STRICT;
CREATE INDEX pack_borrowed ON pack (here, pos) WHERE others = 1;

-- A row is a site that has to do with a pack that is known to more than one.
CREATE TABLE pack_site (
	pack  BLOB NOT NULL,
	site  BLOB NOT NULL,
	has   INTEGER NOT NULL,   -- 1: it made the pack, or it was sent there: what others tell of it concerns this site
	spoke INTEGER NOT NULL,   -- 1: it told something of the pack, or of its load: what it tells concerns who has to do with it
	PRIMARY KEY (site, pack)
) STRICT, WITHOUT ROWID;
CREATE INDEX pack_sites ON pack_site (pack, site);
CREATE INDEX pack_label ON pack (label);
CREATE INDEX pack_live ON pack (here, live, pos);
CREATE INDEX pack_newest ON pack (live, pos);
CREATE INDEX pack_missing ON pack (pos) WHERE missing = 1;
CREATE VIRTUAL TABLE pack_part USING fts5 (words, content = 'pack', content_rowid = 'n', tokenize = 'trigram');
CREATE TRIGGER pack_new AFTER INSERT ON pack BEGIN
	INSERT INTO pack_part (rowid, words) VALUES (new.n, new.words);
END;
CREATE TRIGGER pack_gone AFTER DELETE ON pack BEGIN
	INSERT INTO pack_part (pack_part, rowid, words) VALUES ('delete', old.n, old.words);
END;
CREATE TRIGGER pack_told AFTER UPDATE OF words ON pack WHEN old.words <> new.words BEGIN
	INSERT INTO pack_part (pack_part, rowid, words) VALUES ('delete', old.n, old.words);
	INSERT INTO pack_part (rowid, words) VALUES (new.n, new.words);
END;
CREATE INDEX pack_counter ON pack (prefix, counter);

-- A row is the check sum of an entry as it was verified: what is read later and sums to the same was not damaged since.
CREATE TABLE whole (
	pos INTEGER PRIMARY KEY,
	sum INTEGER NOT NULL
) STRICT;

-- A row is one figure about these tables.
CREATE TABLE mark (
	name  TEXT PRIMARY KEY,
	value BLOB NOT NULL
) STRICT, WITHOUT ROWID;
