package chart

import (
	"flag"
	"os"
	"testing"
)

// TestMain fixes the seed of the property tests, so that every run sees the same cases; a -rapid.seed on
// the command line comes first. Failing cases are printed, not written into the source tree.
func TestMain(m *testing.M) {
	flag.Parse()
	given := map[string]bool{}
	flag.Visit(func(f *flag.Flag) { given[f.Name] = true })
	settings := map[string]string{"rapid.seed": "1", "rapid.nofailfile": "true"}
	if testing.Short() || raceEnabled {
		settings["rapid.checks"] = "15"
	}
	for name, value := range settings {
		if !given[name] {
			if err := flag.Set(name, value); err != nil {
				panic(err)
			}
		}
	}
	os.Exit(m.Run())
}
