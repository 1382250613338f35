package model

// Consumable is a thing that is used up.
type Consumable string

// The consumables, in the order of lists.
const (
	StockTape      Consumable = "tape"      // packs' worth
	StockStrips    Consumable = "strips"    // pieces
	StockSpores    Consumable = "spores"    // tests, controls counted too
	StockWrap      Consumable = "wrap"      // single-use wraps and pouches
	StockDetergent Consumable = "detergent" // cleanings' worth
	StockSeals     Consumable = "seals"     // pieces
	StockFuel      Consumable = "fuel"      // cycles' worth
	StockWater     Consumable = "water"     // litres of clean water
	StockLabels    Consumable = "labels"    // pieces
)

// Consumables are all of them.
var Consumables = []Consumable{StockTape, StockStrips, StockSpores, StockWrap, StockDetergent, StockSeals, StockFuel, StockWater, StockLabels}

// StockTold is a consumable counted on the shelf, or received.
type StockTold struct {
	What    Consumable `cbor:"1,keyasint"`
	Amount  int64      `cbor:"2,keyasint"`
	Counted bool       `cbor:"3,keyasint"` // true: so much is there; false: so much came in
	At      int64      `cbor:"4,keyasint"`
}
