-- A row is one field of one form as it stands while it is typed.
CREATE TABLE draft (
	scope TEXT NOT NULL,
	field TEXT NOT NULL,
	value TEXT NOT NULL,
	PRIMARY KEY (scope, field)
) STRICT, WITHOUT ROWID;
