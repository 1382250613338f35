package store

import (
	"crypto/sha256"
	"encoding/binary"
	"encoding/json"

	"mvuke/model/entry"
)

// An entry is verified when it is signed or comes in, and summed then. What is taken out later is only compared with its sum: a signature takes fifty times as long. The sum finds damage, no
// forger; whoever receives it verifies it.

func sumOf(x entry.Sealed) int64 {
	h := sha256.New()
	for _, part := range [][]byte{x.Key, x.Sig, x.Body} { // key and signature have one length each
		h.Write(part)
	}
	return int64(binary.BigEndian.Uint64(h.Sum(nil)))
}

// whole says whether all of some rows are as they were verified; where it cannot tell, no.
func (s *Store) whole(places []int64, rows []entry.Sealed) bool {
	among, err := json.Marshal(places)
	if err != nil {
		return false
	}
	got, err := s.ask.Query("SELECT pos, sum FROM whole WHERE pos IN (SELECT value FROM json_each(?))", string(among))
	if err != nil {
		return false
	}
	defer got.Close()
	sums := make(map[int64]int64, len(places))
	for got.Next() {
		var pos, sum int64
		if got.Scan(&pos, &sum) != nil {
			return false
		}
		sums[pos] = sum
	}
	if got.Err() != nil {
		return false
	}
	for i, pos := range places {
		if sum, ok := sums[pos]; !ok || sum != sumOf(rows[i]) {
			return false
		}
	}
	return true
}
