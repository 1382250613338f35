package store

import (
	"strconv"

	"mvuke/model"
)

// Double is a number that several packs have, or several cycles of one pot: they are several things, whatever the number says.
type Double struct {
	Number string
	Of     []model.Ref
}

// Doubles lists them, at most so many of each.
func (s *Store) Doubles(most int) (out []Double, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.current(); err != nil {
		return nil, err
	}
	for _, q := range []string{
		"SELECT label, ref, x'' FROM pack WHERE label IN (SELECT label FROM pack WHERE label <> '' GROUP BY label HAVING count(*) > 1 LIMIT ?) ORDER BY label, pos",
		`SELECT c.number, c.ref, c.pot FROM cycle c JOIN (SELECT pot, number FROM cycle GROUP BY pot, number HAVING count(*) > 1 LIMIT ?) d
			ON c.pot = d.pot AND c.number = d.number ORDER BY c.pot, c.number, c.pos`,
	} {
		rows, err := s.views.Query(q, most)
		if err != nil {
			return nil, err
		}
		last := ""
		for rows.Next() {
			var number any
			var ref, pot []byte
			if err := rows.Scan(&number, &ref, &pot); err != nil {
				_ = rows.Close()
				return nil, err
			}
			text, ok := number.(string)
			if n, whole := number.(int64); whole && !ok {
				text = strconv.FormatInt(n, 10)
			}
			r, err := model.RefOf(ref)
			if err != nil {
				_ = rows.Close()
				return nil, err
			}
			if of := text + string(pot); of != last { // two pots may have one number
				out, last = append(out, Double{Number: text}), of
			}
			out[len(out)-1].Of = append(out[len(out)-1].Of, r)
		}
		if err := rows.Err(); err != nil {
			return nil, err
		}
	}
	return out, nil
}
