package cli

import (
	"io"
	"os"
	"os/signal"
	"runtime"
	"syscall"

	"context"

	"golang.org/x/term"
)

// Env is every touch of the outside world that a command has, so that a test can stand in for it.
type Env struct {
	Stdin  io.Reader
	Stdout io.Writer
	Stderr io.Writer
	// CPUs is how many logs are worked on at once when --jobs is not given.
	CPUs int
	// Colour says whether verdict words on standard output may be emphasised (a terminal, and NO_COLOR not set).
	Colour bool
	// Width is the terminal's width in columns; 0 when standard output is no terminal.
	Width int
}

// OSEnv is the Env of a real process.
func OSEnv() Env {
	e := Env{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, CPUs: runtime.GOMAXPROCS(0)}
	if fd := int(os.Stdout.Fd()); term.IsTerminal(fd) {
		_, noColour := os.LookupEnv("NO_COLOR")
		e.Colour = !noColour && os.Getenv("TERM") != "dumb"
		if w, _, err := term.GetSize(fd); err == nil {
			e.Width = w
		}
	}
	return e
}

// withInterrupt gives a context that ends at the first interrupt from the keyboard or the system.
func withInterrupt(ctx context.Context) (context.Context, context.CancelFunc) {
	return signal.NotifyContext(ctx, os.Interrupt, syscall.SIGTERM)
}
