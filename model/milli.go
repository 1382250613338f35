package model

import "math"

// MilliDown is a figure in thousandths, rounded down: never to the friendly side. A millionth is
// forgiven, so that 17.92 typed is 17920 and not 17919.
func MilliDown(v float64) int64 { return int64(math.Floor(v*1000 + 1e-6)) }
