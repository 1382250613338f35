package work

import (
	"errors"
	"strings"
)

// Refusal is a code with arguments; the catalogue has its sentence under "refuse." + Code.
type Refusal struct {
	Code  string
	Args  []string
	cause error
}

func (r *Refusal) Error() string {
	s := "work: " + r.Code
	if len(r.Args) > 0 {
		s += " (" + strings.Join(r.Args, ", ") + ")"
	}
	if r.cause != nil {
		s += ": " + r.cause.Error()
	}
	return s
}

func (r *Refusal) Unwrap() error { return r.cause }

func refuse(code string, args ...string) error { return &Refusal{Code: code, Args: args} }

func wrap(cause error, code string, args ...string) error {
	return &Refusal{Code: code, Args: args, cause: cause}
}

func isRefusal(err error, code string) bool {
	var r *Refusal
	return errors.As(err, &r) && r.Code == code
}
