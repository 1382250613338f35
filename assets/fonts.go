package assets

import _ "embed" // the fonts are compiled in: never rely on the system's

// Regular and Bold are Noto Sans (SIL Open Font License 1.1, fonts/OFL.txt).
var (
	//go:embed fonts/NotoSans-Regular.ttf
	Regular []byte
	//go:embed fonts/NotoSans-Bold.ttf
	Bold []byte
)
