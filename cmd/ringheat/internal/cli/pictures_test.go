package cli

import (
	"bytes"
	"flag"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"gonum.org/v1/plot/cmpimg"
)

var updatePictures = flag.Bool("update-pictures", false, "make README's pictures anew; look at each before committing it")

// readmePictures are the pictures that README shows, as check --out and need --out name them.
var readmePictures = []string{"02-magpie-tension-roll.png", "04-longtom-dryer-7.png", "06-heron-free-end.png", "08-magpie-unwind.png", "need.png"}

// TestReadmePictures checks that the pictures README shows are what the program draws of the demo.
func TestReadmePictures(t *testing.T) {
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	env, _, talk := testEnv("")
	if code := Run(t.Context(), env, []string{"check", "--runs", "runs.csv", "--out", "results"}); code == exitUsage {
		t.Fatal(talk)
	}
	if code := Run(t.Context(), env, []string{"need", "--parts", "parts.csv", "--part", "QM-415", "--probe-tolerance-k", "1.5", "--out", "results"}); code == exitUsage {
		t.Fatal(talk)
	}
	for _, name := range readmePictures {
		drawn, err := os.ReadFile(filepath.Join("results", name))
		if err != nil {
			t.Error(err)
			continue
		}
		stored := filepath.Join(repository, "sampledata", "pictures", name)
		if *updatePictures {
			if err := os.WriteFile(stored, drawn, 0o644); err != nil {
				t.Fatal(err)
			}
			continue
		}
		kept, err := os.ReadFile(stored)
		if err != nil {
			t.Error(err)
			continue
		}
		if len(drawn) > 64<<10 {
			t.Errorf("%s is %d kB, README's pictures are kept small", name, len(drawn)>>10)
		}
		if same, err := cmpimg.EqualApprox("png", drawn, kept, 0.02); err != nil || !same {
			t.Errorf("README's %s is not what the program draws (%v); make it anew with -update-pictures and look at it", name, err)
		}
		if c, err := png.DecodeConfig(bytes.NewReader(drawn)); err != nil || c.Width != 1200 || c.Height != 800 {
			t.Errorf("%s: %d x %d, %v", name, c.Width, c.Height, err)
		}
	}
}
