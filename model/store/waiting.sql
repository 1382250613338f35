-- A row is one signed entry that came before the one that it follows on: kept, shown, relayed, and counted only where it is bad news.
CREATE TABLE waiting (
	n      INTEGER PRIMARY KEY,
	id     BLOB    NOT NULL UNIQUE,
	stream BLOB    NOT NULL,
	seq    INTEGER NOT NULL,
	body   BLOB    NOT NULL,
	key    BLOB    NOT NULL,
	sig    BLOB    NOT NULL
) STRICT;
CREATE INDEX waiting_stream ON waiting (stream, seq);

-- A row is the latest word of a device on what it holds, as it signed it: the receipt for what was sent to it.
CREATE TABLE standing (
	holder  BLOB    PRIMARY KEY,
	counter INTEGER NOT NULL,
	raw     BLOB    NOT NULL,
	key     BLOB    NOT NULL,
	sig     BLOB    NOT NULL
) STRICT, WITHOUT ROWID;
