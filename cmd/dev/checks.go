package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
)

// fyneVersion is the one release of the toolkit the screens were looked at
// with. Another may lay text out otherwise, which no test can judge.
const fyneVersion = "v2.8.1"

// stepGofmt takes gofmt from beside the compiler in use: one from elsewhere
// may format otherwise, or not be there.
func stepGofmt(ctx context.Context, _ *trial) error {
	root, err := output(ctx, nil, "go", "env", "GOROOT")
	if err != nil {
		return err
	}
	out, err := output(ctx, nil, filepath.Join(strings.TrimSpace(root), "bin", "gofmt"), "-l", ".")
	if err != nil {
		return err
	}
	if files := strings.Fields(out); len(files) > 0 {
		return fmt.Errorf("not in the format of gofmt:\n  %s\nrun: gofmt -w %s", strings.Join(files, "\n  "), strings.Join(files, " "))
	}
	return nil
}

// stepModules looks at versions that the go command would let drift apart.
// The database is C translated to Go against one release of its C library; it
// is correct with that one only.
func stepModules(ctx context.Context, _ *trial) error {
	ours, err := selected(ctx, "modernc.org/libc")
	if err != nil {
		return err
	}
	file, err := output(ctx, nil, "go", "list", "-m", "-f", "{{.GoMod}}", "modernc.org/sqlite")
	if err != nil {
		return err
	}
	mod, err := output(ctx, nil, "go", "mod", "edit", "-json", strings.TrimSpace(file))
	if err != nil {
		return err
	}
	theirs, err := required([]byte(mod), "modernc.org/libc")
	if err != nil {
		return fmt.Errorf("go.mod of modernc.org/sqlite: %w", err)
	}
	fyne, err := selected(ctx, "fyne.io/fyne/v2")
	if err != nil {
		return err
	}
	var wrong []error
	if ours != theirs {
		wrong = append(wrong, fmt.Errorf("modernc.org/libc is %s, but modernc.org/sqlite was made with %s; run: go get modernc.org/libc@%s", ours, theirs, theirs))
	}
	if fyne != fyneVersion {
		wrong = append(wrong, fmt.Errorf("fyne.io/fyne/v2 is %s, but the screens were made with %s; run: go get fyne.io/fyne/v2@%s, or look at every screen and change fyneVersion in cmd/dev/checks.go", fyne, fyneVersion, fyneVersion))
	}
	if len(wrong) == 0 {
		say("modernc.org/libc %s as sqlite wants it, fyne.io/fyne/v2 %s", ours, fyne)
	}
	return errors.Join(wrong...)
}

// selected is the version the build uses; a replacement shows in it, and so
// is never mistaken for the real one.
func selected(ctx context.Context, module string) (string, error) {
	out, err := output(ctx, nil, "go", "list", "-m", "-f", "{{.Version}}{{with .Replace}} => {{.}}{{end}}", module)
	return strings.TrimSpace(out), err
}

// required finds a module among those that a go.mod, as JSON, requires.
func required(mod []byte, module string) (string, error) {
	var m struct {
		Require []struct{ Path, Version string }
	}
	if err := json.Unmarshal(mod, &m); err != nil {
		return "", err
	}
	for _, r := range m.Require {
		if r.Path == module {
			return r.Version, nil
		}
	}
	return "", fmt.Errorf("it does not require %s; the rule that both must agree may be over, see stepModules in cmd/dev/checks.go", module)
}
