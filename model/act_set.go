package model

// SetList is what belongs in a set.
type SetList struct {
	Name   string  `cbor:"1,keyasint"`
	Pieces []Piece `cbor:"2,keyasint"`
	Gone   bool    `cbor:"3,keyasint,omitempty"` // no longer packed
}

// Piece is one line of a set list.
type Piece struct {
	Name      string `cbor:"1,keyasint"`
	Count     int64  `cbor:"2,keyasint"`
	Essential bool   `cbor:"3,keyasint"` // without it the set is not packed
}

// Total is the number of pieces.
func (l SetList) Total() (n int64) {
	for _, p := range l.Pieces {
		n += p.Count
	}
	return n
}

// Short is what is missing of a list: how many of each of its lines are there.
type Short struct {
	Piece string `cbor:"1,keyasint"`
	Have  int64  `cbor:"2,keyasint"`
	Want  int64  `cbor:"3,keyasint"`
}
