package cli

import (
	"errors"
	"fmt"
	"strings"
)

// Exit codes, the same for every command. With several logs the worst of 1, 3 and 4, in that order, is given.
const (
	exitPass       = 0
	exitFail       = 1   // some log FAILs
	exitUsage      = 2   // wrong flags, no log found, --out not writable
	exitUnreadable = 3   // some log could not be read
	exitUnproven   = 4   // some log is UNPROVEN
	exitInterrupt  = 130 // stopped from the keyboard
)

// usageError is a mistake in how the program was called; hint says what to type instead.
type usageError struct {
	message string
	hint    string
}

func (e *usageError) Error() string { return e.message }

func usagef(hint, format string, args ...any) error {
	return &usageError{message: fmt.Sprintf(format, args...), hint: hint}
}

// report writes an error to stderr the way every command does, and gives the exit code.
func (e Env) report(err error) int {
	fmt.Fprintf(e.Stderr, "ringheat: %s\n", err)
	var u *usageError
	if errors.As(err, &u) && u.hint != "" {
		for line := range strings.SplitSeq(u.hint, "\n") {
			fmt.Fprintf(e.Stderr, "  hint: %s\n", line)
		}
	}
	return exitUsage
}
