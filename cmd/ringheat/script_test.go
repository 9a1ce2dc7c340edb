package main

import (
	"flag"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

var update = flag.Bool("update", false, "rewrite the scripts' golden files from what the program prints; review the change like code")

func TestMain(m *testing.M) { testscript.Main(m, map[string]func(){"ringheat": main}) }

// Each script in testdata/script is one topic of the command line, run as a user would.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata/script",
		UpdateScripts:       *update,
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
	})
}
