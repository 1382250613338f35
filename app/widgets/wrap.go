package widgets

import "strings"

const ellipsis = "…"

// wrap breaks text at spaces (and at "\n") so that no line is wider than
// width. A word wider than a line is broken between letters. With limit > 0
// at most that many lines come back and the last one ends in an ellipsis
// when something was left out.
func wrap(text string, size float32, bold bool, width float32, limit int) []string {
	var out []string
	for _, para := range strings.Split(text, "\n") {
		line := ""
		for _, word := range strings.Fields(para) {
			try := word
			if line != "" {
				try = line + " " + word
			}
			if textWidth(try, size, bold) <= width {
				line = try
				continue
			}
			if line != "" {
				out = append(out, line)
			}
			for textWidth(word, size, bold) > width {
				n := fit(word, size, bold, width)
				if n >= len(word) {
					break
				}
				out, word = append(out, word[:n]), word[n:]
			}
			line = word
		}
		out = append(out, line)
	}
	if limit > 0 && len(out) > limit {
		rest := strings.Join(out[limit-1:], " ")
		out = append(out[:limit-1], shorten(rest, size, bold, width))
	}
	return out
}

// fit is the number of bytes of s that fit in width, at least one letter.
func fit(s string, size float32, bold bool, width float32) int {
	cuts := []int{}
	for i := range s {
		if i > 0 {
			cuts = append(cuts, i)
		}
	}
	cuts = append(cuts, len(s))
	lo, hi := 0, len(cuts)-1
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if textWidth(s[:cuts[mid]], size, bold) <= width {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return cuts[lo]
}

// shorten cuts s to width and ends it with an ellipsis if it was too long.
func shorten(s string, size float32, bold bool, width float32) string {
	if s == "" || textWidth(s, size, bold) <= width {
		return s
	}
	room := width - textWidth(ellipsis, size, bold)
	if room <= 0 {
		return ellipsis
	}
	return strings.TrimRight(s[:fit(s, size, bold, room)], " ") + ellipsis
}

// widest is the width of the widest of the lines.
func widest(lines []string, size float32, bold bool) float32 {
	w := float32(0)
	for _, l := range lines {
		w = max(w, textWidth(l, size, bold))
	}
	return w
}
