package cli

import (
	"context"
	"fmt"
	"runtime/debug"
)

// release is the version of this source tree.
const release = "0.1.0"

// version is the release, with the commit it was built from where the build recorded one.
func version() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if s.Key == "vcs.revision" && len(s.Value) >= 12 {
				return release + "+" + s.Value[:12]
			}
		}
	}
	return release
}

func runVersion(_ context.Context, e Env, _ []string) int {
	fmt.Fprintf(e.Stdout, "ringheat %s\n", version())
	return exitPass
}
