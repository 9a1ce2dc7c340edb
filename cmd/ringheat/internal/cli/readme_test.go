package cli

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringheat/report"
)

// repository is the root of the source tree, found before any test changes the folder.
var repository = func() string {
	dir, err := filepath.Abs("../../../..")
	if err != nil {
		panic(err)
	}
	return dir
}()

var readmePath = filepath.Join(repository, "README.md")

// A session is one command of README with the output shown below it.
type session struct {
	line    int
	command string
	want    []string
}

// sessions finds the commands in README's console blocks. A block is fenced by ```console; a line that
// begins with $ is a command, what follows it is its output, and a line of three dots stands for any lines.
func sessions(text string) []session {
	var list []session
	in := false
	for i, line := range strings.Split(text, "\n") {
		switch {
		case strings.HasPrefix(line, "```"):
			in = line == "```console"
		case in && strings.HasPrefix(line, "$ "):
			list = append(list, session{line: i + 1, command: strings.TrimPrefix(line, "$ ")})
		case in && len(list) > 0:
			list[len(list)-1].want = append(list[len(list)-1].want, line)
		}
	}
	return list
}

// TestReadmeSessions runs every command shown in README in the demo's folder and compares what is shown.
func TestReadmeSessions(t *testing.T) {
	text, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	list := sessions(string(text))
	if len(list) < 5 {
		t.Fatalf("README shows %d commands in console blocks, want at least 5", len(list))
	}
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	for _, s := range list {
		args := strings.Fields(s.command)
		if args[0] != "ringheat" {
			t.Errorf("README.md:%d: %q is no command of ringheat", s.line, s.command)
			continue
		}
		env, out, talk := testEnv("")
		code := Run(t.Context(), env, args[1:])
		if code == exitUsage {
			t.Errorf("README.md:%d: %s: exit code 2: %s", s.line, s.command, talk)
		}
		if diff := unlike(s.want, strings.Split(strings.TrimRight(out.String(), "\n"), "\n")); diff != "" {
			t.Errorf("README.md:%d: %s: %s\nthe program prints:\n%s", s.line, s.command, diff, out)
		}
	}
}

// unlike says where an output differs from the lines shown; "" when it does not.
func unlike(want, got []string) string {
	for len(want) > 0 {
		if want[0] != "..." {
			if len(got) == 0 {
				return "shown but not printed: " + want[0]
			}
			if strings.TrimRight(want[0], " ") != strings.TrimRight(got[0], " ") {
				return "shown: " + want[0] + "\nprinted: " + got[0]
			}
			want, got = want[1:], got[1:]
			continue
		}
		want = want[1:]
		if len(want) == 0 {
			return ""
		}
		for len(got) > 0 && strings.TrimRight(got[0], " ") != strings.TrimRight(want[0], " ") {
			got = got[1:]
		}
	}
	if len(got) > 0 {
		return "printed but not shown: " + got[0]
	}
	return ""
}

func TestUnlike(t *testing.T) {
	got := []string{"a", "b", "c", "d"}
	for _, c := range []struct {
		want string
		like bool
	}{
		{"a\nb\nc\nd", true}, {"a\n...", true}, {"...\nd", true}, {"a\n...\nc\nd", true},
		{"a\nb", false}, {"a\n...\nc", false}, {"a\nx\n...", false}, {"...\nx", false}, {"a\nb\nc\nd\ne", false},
	} {
		if like := unlike(strings.Split(c.want, "\n"), got) == ""; like != c.like {
			t.Errorf("%q: like %v, want %v", c.want, like, c.like)
		}
	}
}

// TestCautions holds the cautions in README, in the help of the commands that concern heat, and in every
// format of check.
func TestCautions(t *testing.T) {
	readme, err := os.ReadFile(readmePath)
	if err != nil {
		t.Fatal(err)
	}
	whole := func(name, text string) {
		t.Helper()
		for _, c := range report.Cautions {
			if !strings.Contains(text, c) {
				t.Errorf("%s lacks the caution %q", name, c)
			}
		}
	}
	whole("README.md", string(readme))
	for _, c := range []string{"check", "need", "explain"} {
		env, out, _ := testEnv("")
		Run(t.Context(), env, []string{c, "-h"})
		whole(c+" -h", out.String())
	}
	dir := t.TempDir()
	if _, err := writeDemo(dir); err != nil {
		t.Fatal(err)
	}
	for _, format := range []string{"text", "json", "csv"} {
		env, out, _ := testEnv("")
		Run(t.Context(), env, []string{"check", "--runs", dir + "/runs.csv", "--format", format})
		if format == "csv" {
			if !strings.Contains(out.String(), report.ShortCaution) {
				t.Errorf("--format csv lacks the short caution")
			}
			continue
		}
		whole("--format "+format, out.String())
	}
	for _, word := range []string{"burn", "magnetic", "implants", "watches", "cards", "tools", "ains power", "ifting", "inching", "flame", "akers' instructions", "local codes", "licensed practice", "releases no work"} {
		if !strings.Contains(report.ShortCaution, word) {
			t.Errorf("the short caution lacks %q", word)
		}
		if !strings.Contains(strings.ReplaceAll(report.CautionText(), "instructions of the makers", "makers' instructions"), word) {
			t.Errorf("the cautions lack %q", word)
		}
	}
}
