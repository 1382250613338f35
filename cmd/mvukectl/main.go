// Command mvukectl is the program without a window: the same work, for scripts, for
// machines that can open no window, and for checking a register.
//
// Data goes to standard output (JSON where a figure is asked for), words for
// people to standard error. Exit codes: 0 done, 1 it could not be done, 2 the
// input was wrong; assess: 0 shown, 3 not known, 4 failed.
package main

import (
	"errors"
	"fmt"
	"io"
	"os"

	"mvuke/app/work"
	"mvuke/assets"
)

// tool is one run.
type tool struct {
	out, err io.Writer
	words    *assets.Words
}

type command struct {
	name, usage, example string
	run                  func(*tool, []string) int
}

func commands() []command {
	return []command{
		{"mark", "what the needle must show at a height on a dial", "mvukectl mark --altitude 1800m --unit psi --line 1 --span 30 --class 2.5", (*tool).mark},
		{"assess", "what the readings of a log show", "mvukectl assess LOG.csv --altitude 1800m --unit kPa --span 250 --class 2.5 --rest 0", (*tool).assess},
		{"practice", "burn a pot that is only simulated, and print its log", "mvukectl practice --seed 7 --altitude 1800m --hand steady --csv > LOG.csv", (*tool).practice},
		{"card", "wall card (PDF)", "mvukectl card --data DIR --out card.pdf", (*tool).card},
		{"slip", "slips for the fire (PDF)", "mvukectl slip --data DIR --out slip.pdf --paper A4", (*tool).slip},
		{"sheet", "log sheet, or the sheet of one cycle (PDF)", "mvukectl sheet --data DIR --cycle 12 --out cycle.pdf", (*tool).sheet},
		{"table", "a table of a register as CSV, or all of them in one workbook (XLSX)", "mvukectl table packs --data DIR --out packs.csv", (*tool).table},
		{"fill", "take lists in from CSV: sets, people or stock; all of a file or nothing", "mvukectl fill sets LISTS.csv --data DIR --person NAME --dry-run", (*tool).fill},
		{"export", "take out what a site lacks, for a stick", "mvukectl export --data DIR --to STICK --site NAME", (*tool).export},
		{"import", "take in what lies on a stick", "mvukectl import --data DIR --from STICK", (*tool).bring},
		{"inspect", "what anybody can see of a bundle, without a key", "mvukectl inspect FILE.MVB", (*tool).inspect},
		{"begin", "set a register up: a clinic's, or with --office a district's", "mvukectl begin --data DIR --site NAME --person NAME --altitude 1200m --unit kPa --span 250 --class 2.5 --limit 160kPa", (*tool).begin},
		{"join", "a clinic asks to join a district, and reads the answer", "mvukectl join --data DIR --person NAME --to STICK", (*tool).join},
		{"grant", "the office takes in the clinics that ask on a stick", "mvukectl grant --data DIR --person NAME --from STICK", (*tool).grant},
		{"remove", "take a device out of the district: lost, stolen, given away", "mvukectl remove --data DIR --person NAME --device CDF --reason stolen", (*tool).remove},
		{"roster", "the sites of the district, and their devices", "mvukectl roster --data DIR", (*tool).roster},
		{"report", "a month of the clinics that are known here", "mvukectl report --data DIR --month 2027-03 --out march.pdf", (*tool).report},
		{"trace", "what a recall is about and where each pack is, or a pack's load", "mvukectl trace --data DIR --recall 3", (*tool).trace},
		{"lookback", "loads that a comparison or an altitude puts in doubt, judged anew", "mvukectl lookback --data DIR", (*tool).lookback},
		{"words", "a key as 24 words for paper, and back", "mvukectl words --data DIR --key site", (*tool).keyWords},
		{"heads", "what the register holds of each stream", "mvukectl heads --data DIR", (*tool).heads},
		{"check", "check a whole register", "mvukectl check --data DIR", (*tool).check},
		{"backup", "make a verified copy of a register", "mvukectl backup --data DIR --out copy.mvb", (*tool).backup},
		{"restore", "put a verified copy in place of a register", "mvukectl restore --from copy.mvb --data DIR", (*tool).restore},
		{"demo", "fill a folder with an invented clinic", "mvukectl demo --data DIR", (*tool).demo},
		{"seed", "add many invented entries, for measuring", "mvukectl seed --data DIR --entries 200000", (*tool).seed},
	}
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

func run(args []string, out, errOut io.Writer) int {
	t := &tool{out, errOut, assets.For(assets.Fallback)}
	if len(args) == 0 || args[0] == "--help" || args[0] == "-h" || args[0] == "help" {
		t.help()
		return 0
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(t, args[1:])
		}
	}
	fmt.Fprintf(errOut, "mvukectl: there is no command %q. These are there:\n", args[0])
	t.help()
	return 2
}

func (t *tool) help() {
	fmt.Fprintln(t.err, "mvukectl COMMAND [flags]        each command takes --json and --help")
	for _, c := range commands() {
		fmt.Fprintf(t.err, "  %-8s %s\n           %s\n", c.name, c.usage, c.example)
	}
	fmt.Fprintln(t.err, t.words.Say("caution.line"))
}

// bad reports wrong input.
func (t *tool) bad(err error) int {
	fmt.Fprintln(t.err, "mvukectl:", t.sentence(err))
	return 2
}

// failed reports what could not be done.
func (t *tool) failed(err error) int {
	fmt.Fprintln(t.err, "mvukectl:", t.sentence(err))
	return 1
}

// sentence turns a refusal into the catalogue's words.
func (t *tool) sentence(err error) string {
	var m *mistake
	if errors.As(err, &m) {
		return m.say(t.words)
	}
	var r *work.Refusal
	if errors.As(err, &r) && t.words.Has("refuse."+r.Code) {
		return t.words.Say("refuse."+r.Code, r.Args...)
	}
	if errors.As(err, &r) && t.words.Has(r.Code) {
		return t.words.Say(r.Code, r.Args...)
	}
	return err.Error()
}
