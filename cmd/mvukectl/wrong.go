package main

import "mvuke/assets"

// mistake is what of the input was wrong, in the catalogue's words ("ctl." + code).
type mistake struct {
	code string
	args []string
}

func wrong(code string, args ...string) error { return &mistake{code, args} }

// Error is in English; sentence says it in the language that was asked for.
func (m *mistake) Error() string { return m.say(assets.For(assets.Fallback)) }

func (m *mistake) say(w *assets.Words) string { return w.Say("ctl."+m.code, m.args...) }
