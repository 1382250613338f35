package pot

// Hand is a person at the pot as a handful of habits.
type Hand struct {
	Glance  float64 // s between glances at the needle to tend the fire
	Ask     float64 // min between written looks
	Late    float64 // min that a written look may be late
	Miss    float64 // share of written looks that are left out
	Careful bool    // knows steady steam from spluttering, and watches the needle between the looks
	Vent    float64 // share of the asked vent that is really done
	Swear   float64 // share of looks at which "stayed" is sworn without having watched
	Forget  float64 // share of tendings left out
	Short   float64 // minutes by which the hold is ended early
	Extra   float64 // minutes that the hold is kept longer
	Aim     float64 // where the needle is kept: 0 at the mark, 1 at the restart line
	Zero    float64 // share of cycles in which zero is looked at and written down
}

// Three hands.
var (
	Steady     = Hand{Glance: 30, Ask: 5, Late: 0.5, Careful: true, Vent: 1.1, Extra: 1, Zero: 1}
	Hurried    = Hand{Glance: 90, Ask: 6, Late: 3, Miss: 0.15, Vent: 0.75, Swear: 0.4, Short: 2, Zero: 0.85}
	Distracted = Hand{Glance: 150, Ask: 5, Late: 7, Miss: 0.25, Careful: true, Vent: 1, Swear: 0.2, Forget: 0.35, Extra: 2, Zero: 0.9}
	HandNames  = []string{"steady", "hurried", "distracted"}
	Hands3     = map[string]Hand{"steady": Steady, "hurried": Hurried, "distracted": Distracted}
)
