package cli

import (
	"flag"
	"io"
	"os"
	"path/filepath"
	"testing"
)

var benchLogs = flag.String("bench-logs", "", "folder of logs for BenchmarkCheck; the demo's logs when not given")

// BenchmarkCheck is a whole call of check over a folder: reading, estimating, judging, a results list, no pictures.
// SetBytes makes the result bytes of log a second.
func BenchmarkCheck(b *testing.B) {
	dir := *benchLogs
	if dir == "" {
		dir = b.TempDir()
		if _, err := writeDemo(dir); err != nil {
			b.Fatal(err)
		}
		dir = filepath.Join(dir, "logs")
	}
	size := int64(0)
	entries, err := os.ReadDir(dir)
	if err != nil {
		b.Fatal(err)
	}
	for _, e := range entries {
		if info, err := e.Info(); err == nil {
			size += info.Size()
		}
	}
	for _, jobs := range []string{"1", "2"} {
		b.Run("jobs="+jobs, func(b *testing.B) {
			b.SetBytes(size)
			for b.Loop() {
				env := Env{Stdout: io.Discard, Stderr: io.Discard, CPUs: 1}
				if code := Run(b.Context(), env, []string{"check", "--format", "csv", "--jobs", jobs, dir}); code == exitUsage {
					b.Fatal("check was called wrongly")
				}
			}
		})
	}
}
