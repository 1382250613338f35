package bundle

import (
	"errors"
	"fmt"
)

// Code says what is wrong with a file.
type Code string

// The codes. Each has one plain sentence in the catalogue.
const (
	NotABundle Code = "not-a-bundle" // something else
	Incomplete Code = "incomplete"   // copied in part, or pulled too early
	Damaged    Code = "damaged"      // its bytes are not those that were written
	Newer      Code = "newer"        // a newer program is needed
	NotForUs   Code = "not-for-us"   // encrypted to others
	TooLarge   Code = "too-large"    // beyond a limit
	Malformed  Code = "malformed"    // opened, and not what the format says
	Unsigned   Code = "unsigned"     // the sender's signature does not hold
)

// Fault is a file that cannot be taken in.
type Fault struct {
	Code  Code
	Cause error
}

func (f *Fault) Error() string {
	if f.Cause == nil {
		return "bundle: " + string(f.Code)
	}
	return "bundle: " + string(f.Code) + ": " + f.Cause.Error()
}

func (f *Fault) Unwrap() error { return f.Cause }

func fault(c Code, format string, args ...any) error { return &Fault{c, fmt.Errorf(format, args...)} }

// CodeOf gives the code of an error; "" where it is no Fault.
func CodeOf(err error) Code {
	var f *Fault
	if errors.As(err, &f) {
		return f.Code
	}
	return ""
}
