package widgets

import "math"

const dialSweep = 135 // degrees to either side of the top

// DialAngle is where a value stands on a dial that runs from start to span:
// degrees clockwise from the top, from -135 to 135. Values beyond the ends
// stay at the ends.
func DialAngle(value, start, span float64) float64 {
	if !finite(start, span) || span <= start || math.IsNaN(value) {
		return -dialSweep
	}
	return clamp((value-start)/(span-start), 0, 1)*2*dialSweep - dialSweep
}

// DialValue is the value at an angle, the inverse of DialAngle. Angles in the
// open part at the bottom give the nearer end.
func DialValue(angle, start, span float64) float64 {
	if !finite(start, span) || span <= start {
		if finite(start) {
			return start
		}
		return 0
	}
	if !finite(angle) {
		return start
	}
	angle = math.Mod(angle, 360)
	if angle > 180 {
		angle -= 360
	} else if angle < -180 {
		angle += 360
	}
	t := (clamp(angle, -dialSweep, dialSweep) + dialSweep) / (2 * dialSweep)
	return start + (span-start)*t
}
