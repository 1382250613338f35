package tables

import (
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"mvuke/app/work"
	"mvuke/assets"
	"mvuke/model"
)

// Kinds of lists that can be taken in.
var Kinds = []string{"sets", "people", "stock"}

// The columns of each list; those in front must be there. The others are those that our own tables have beside them.
var (
	setColumns = []string{"set", "piece", "count", "needed"}
	takes      = map[string]struct {
		must, may []string
	}{
		"sets":   {setColumns[:2], setColumns[2:]},
		"people": {[]string{"name"}, []string{"roles", "language", "left", "lessons", "signed_off_by"}},
		"stock":  {[]string{"consumable", "left"}, []string{"counted", "lasts_d", "missing_of_30_d"}},
	}
)

// Problem is a line that cannot be taken in; Code ("bring." + Code) and Args are for the catalogue.
type Problem struct {
	Line int      `json:"line"`
	Code string   `json:"code"`
	Args []string `json:"args,omitempty"`
}

const (
	mostListBytes = 2 << 20
	mostProblems  = 40
)

// Bring is a file being read.
type bring struct {
	line     int
	at       map[string]int
	cells    []string
	never    []string
	sets     map[string]int // by name, lower case
	out      work.Lists
	problems []Problem
}

// ReadList reads a list from CSV, parted by commas or semicolons. Every line that cannot be taken is named; where there is one, nothing of the
// file is to be taken.
func ReadList(kind string, r io.Reader, w *assets.Words) (work.Lists, []Problem, error) {
	t, ok := takes[kind]
	if !ok {
		return work.Lists{}, nil, &work.Refusal{Code: "bring.kind", Args: []string{kind, strings.Join(Kinds, ", ")}}
	}
	raw, err := io.ReadAll(io.LimitReader(r, mostListBytes+1))
	if err != nil {
		return work.Lists{}, nil, err
	}
	if len(raw) > mostListBytes {
		return work.Lists{}, []Problem{{1, "large", nil}}, nil
	}
	raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	if !utf8.Valid(raw) {
		return work.Lists{}, []Problem{{1, "encoding", nil}}, nil
	}
	c := csv.NewReader(bytes.NewReader(raw))
	c.FieldsPerRecord, c.TrimLeadingSpace = -1, true
	if first, _, _ := bytes.Cut(raw, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		c.Comma = ';'
	}
	b := &bring{line: 1, at: map[string]int{}, sets: map[string]int{}}
	for bad := range strings.SplitSeq(w.Say1("sets.never"), ",") {
		b.never = append(b.never, strings.TrimSpace(bad))
	}
	head, err := c.Read()
	if err != nil {
		return b.out, []Problem{{1, "empty", []string{strings.Join(append(slices.Clone(t.must), t.may...), ",")}}}, nil
	}
	b.columns(head, t.must, t.may)
	for len(b.problems) < mostProblems && (b.line == 1 || len(b.at) > 0) {
		cells, err := c.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if b.line, _ = c.FieldPos(0); err != nil {
			var bad *csv.ParseError
			if errors.As(err, &bad) {
				b.line = bad.StartLine
			}
			b.bad("unread", err.Error())
			break // where a quotation mark is missing nothing after it can be told apart
		}
		b.take(kind, cells, len(head))
	}
	if len(b.problems) == 0 && b.out.Empty() {
		b.bad("nothing")
	}
	if kind == "sets" && len(b.problems) == 0 {
		b.sizes()
	}
	return b.out, b.problems, nil
}

func (b *bring) bad(code string, args ...string) {
	b.problems = append(b.problems, Problem{b.line, code, args})
}

func (b *bring) columns(head, must, may []string) {
	all := append(slices.Clone(must), may...)
	for i, h := range head {
		h = strings.ToLower(strings.TrimSpace(h))
		if _, twice := b.at[h]; twice || !slices.Contains(all, h) {
			b.bad("column", h, strings.Join(all, ","))
			continue
		}
		b.at[h] = i
	}
	for _, m := range must {
		if _, ok := b.at[m]; !ok {
			b.bad("column-missing", m, strings.Join(all, ","))
		}
	}
}

// cell is what stands in a column, without the mark that keeps a spreadsheet from taking it for a formula.
func (b *bring) cell(name string) string {
	i, ok := b.at[name]
	if !ok || i >= len(b.cells) {
		return ""
	}
	text := strings.Join(strings.Fields(b.cells[i]), " ")
	if rest, ok := strings.CutPrefix(text, "'"); ok && harmless(rest) == text {
		return rest
	}
	return text
}

func (b *bring) take(kind string, cells []string, wide int) {
	b.cells = cells
	switch {
	case strings.TrimSpace(strings.Join(cells, "")) == "":
	case len(cells) > wide:
		b.bad("wide", strconv.Itoa(len(cells)), strconv.Itoa(wide))
	case kind == "sets":
		b.piece()
	case kind == "people":
		b.person()
	case kind == "stock":
		b.stock()
	}
}

func (b *bring) piece() {
	set, piece, n := b.cell("set"), b.cell("piece"), b.cell("count")
	if set == "" || piece == "" {
		b.bad("set-piece")
		return
	}
	p := model.Piece{Name: piece, Count: 1, Essential: true}
	if n != "" {
		v, err := strconv.ParseInt(n, 10, 64)
		if err != nil || v < 1 || v > work.MostOfPiece {
			b.bad("count", n)
			return
		}
		p.Count = v
	}
	switch strings.ToLower(b.cell("needed")) {
	case "", "yes", "oui", "1", "x":
	case "no", "non", "0":
		p.Essential = false
	default:
		b.bad("needed", b.cell("needed"))
		return
	}
	if work.NeverInASet(piece, b.never) {
		b.bad("never", piece)
		return
	}
	key := strings.ToLower(set)
	i, ok := b.sets[key]
	if !ok {
		i = len(b.out.Sets)
		b.sets[key] = i
		b.out.Sets = append(b.out.Sets, model.SetList{Name: set})
	}
	if slices.ContainsFunc(b.out.Sets[i].Pieces, func(x model.Piece) bool { return strings.EqualFold(x.Name, piece) }) {
		b.bad("piece-twice", piece, set)
		return
	}
	b.out.Sets[i].Pieces = append(b.out.Sets[i].Pieces, p)
}

func (b *bring) sizes() {
	for _, s := range b.out.Sets {
		if s.Total() > work.MostPieces {
			b.bad("set-large", s.Name, strconv.Itoa(work.MostPieces))
		}
	}
}

var rolesTaken = map[string]model.Role{"": model.RoleRecorder, string(model.RoleRecorder): model.RoleRecorder, string(model.RoleReleaser): model.RoleReleaser, string(model.RoleInCharge): model.RoleInCharge}

func (b *bring) person() {
	if strings.EqualFold(b.cell("left"), "yes") {
		return // off the tiles there, and not put onto them here
	}
	name := b.cell("name")
	role, ok := rolesTaken[strings.ToLower(b.cell("roles"))]
	lang := strings.ToLower(b.cell("language"))
	switch {
	case name == "":
		b.bad("name")
	case !ok:
		b.bad("role", b.cell("roles"), "recorder, releaser, in-charge")
	case lang != "" && !slices.Contains(assets.Languages(), lang):
		b.bad("language", lang, strings.Join(assets.Languages(), ", "))
	case slices.ContainsFunc(b.out.People, func(p model.Person) bool { return strings.EqualFold(p.Name, name) }):
		b.bad("name-twice", name)
	default:
		b.out.People = append(b.out.People, model.Person{Name: name, Roles: []model.Role{role}, Language: lang})
	}
}

func (b *bring) stock() {
	what := model.Consumable(strings.ToLower(b.cell("consumable")))
	if b.cell("left") == "" && slices.Contains(model.Consumables, what) {
		return // never counted
	}
	n, err := strconv.ParseInt(b.cell("left"), 10, 64)
	switch {
	case !slices.Contains(model.Consumables, what):
		var all []string
		for _, c := range model.Consumables {
			all = append(all, string(c))
		}
		b.bad("consumable", string(what), strings.Join(all, ", "))
	case err != nil || n < 0 || n > 1_000_000:
		b.bad("left", b.cell("left"))
	case slices.ContainsFunc(b.out.Stock, func(t model.StockTold) bool { return t.What == what }):
		b.bad("consumable-twice", string(what))
	default:
		b.out.Stock = append(b.out.Stock, model.StockTold{What: what, Amount: n, Counted: true})
	}
}
