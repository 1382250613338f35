//go:build linux && amd64

package cut

import (
	"context"
	"fmt"
	"io"
	"path/filepath"
	"text/tabwriter"
)

// Acked is how many acts were acked in all cuts.
func (r Result) Acked() (n int) {
	for _, c := range r.Cuts {
		n += c.Acked
	}
	return n
}

// Lost is how many acts were acked and lost, in how many of the cuts.
func (r Result) Lost() (acts, cuts int) {
	for _, c := range r.Cuts {
		if acts += c.Lost; c.Lost > 0 {
			cuts++
		}
	}
	return acts, cuts
}

// Bad is in how many cuts data were damaged.
func (r Result) Bad() (cuts int) {
	for _, c := range r.Cuts {
		if c.Bad != "" {
			cuts++
		}
	}
	return cuts
}

// Held returns an error unless every acked act was kept and nothing damaged.
func (r Result) Held() error {
	acts, cuts := r.Lost()
	if acts > 0 || r.Bad() > 0 {
		return fmt.Errorf("%d acked acts lost in %d of %d cuts, data damaged in %d",
			acts, cuts, len(r.Cuts), r.Bad())
	}
	return nil
}

// Compare makes o.Cuts cuts with synchronous=FULL and as many with NORMAL,
// and prints a table to out. FULL must lose nothing. NORMAL must lose
// something: a trial in which it does not would not notice a loss, and says
// nothing about FULL.
func Compare(ctx context.Context, o Options, out io.Writer) (full, normal Result, err error) {
	run := func(sync string) (Result, error) {
		p := o
		p.Work = filepath.Join(o.Work, sync)
		p.Args = append(o.Args[:len(o.Args):len(o.Args)], "mvuke.sync="+sync)
		fmt.Fprintf(out, "synchronous=%s, %d cuts\n", sync, o.Cuts)
		return Run(ctx, p)
	}
	if full, err = run("FULL"); err != nil {
		return full, normal, err
	}
	if normal, err = run("NORMAL"); err != nil {
		return full, normal, err
	}
	t := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "synchronous\tcuts\tacked\tlost\tcuts with loss\tcuts with damage\t")
	for _, row := range []struct {
		sync string
		Result
	}{{"FULL", full}, {"NORMAL", normal}} {
		acts, cuts := row.Lost()
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t%d\t%d\t\n",
			row.sync, len(row.Cuts), row.Acked(), acts, cuts, row.Bad())
	}
	t.Flush()
	if err := full.Held(); err != nil {
		return full, normal, fmt.Errorf("synchronous=FULL: %w", err)
	}
	if acts, _ := normal.Lost(); acts == 0 {
		return full, normal, fmt.Errorf("synchronous=NORMAL lost nothing in %d cuts: the trial would not notice a loss", len(normal.Cuts))
	}
	return full, normal, nil
}
