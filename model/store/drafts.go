package store

// SaveDraft keeps one field of one form; durable when it returns nil.
func (s *Store) SaveDraft(scope, field, value string) error {
	s.mu.Lock() // Append may open the files anew
	defer s.mu.Unlock()
	_, err := s.drafts.Exec("INSERT INTO draft (scope, field, value) VALUES (?, ?, ?) ON CONFLICT (scope, field) DO UPDATE SET value = excluded.value",
		scope,
		field,
		value)
	return err
}

// Draft gives the kept fields of a form.
func (s *Store) Draft(scope string) (map[string]string, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	rows, err := s.drafts.Query("SELECT field, value FROM draft WHERE scope = ?", scope)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	out := map[string]string{}
	for rows.Next() {
		var f, v string
		if err := rows.Scan(&f, &v); err != nil {
			return nil, err
		}
		out[f] = v
	}
	return out, rows.Err()
}

// DropDraft forgets a form, after its act is signed.
func (s *Store) DropDraft(scope string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, err := s.drafts.Exec("DELETE FROM draft WHERE scope = ?", scope)
	return err
}
