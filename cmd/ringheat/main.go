// Command ringheat reads a probe logger's record of a part being warmed for mounting and judges
// whether it was warmed within its limits, evenly, and enough for its seat.
//
// Run "ringheat help" for the commands; every command's -h shows its flags and one example.
package main

import (
	"context"
	"os"

	"ringheat/cmd/ringheat/internal/cli"
)

func main() {
	os.Exit(cli.Run(context.Background(), cli.OSEnv(), os.Args[1:]))
}
