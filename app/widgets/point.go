package widgets

// Point is a place on a curve, or on a drawing.
type Point struct{ X, Y float64 }
