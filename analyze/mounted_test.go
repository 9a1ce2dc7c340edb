package analyze_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"ringheat/analyze"
	"ringheat/analyze/judge"
)

// twoWarmings is a log with clock times from 08:00: a part warmed from 08:01 to 08:11 and cooling, another
// from 08:41 to 08:51, a row every 5 s.
func twoWarmings(clock func(s int) string) string {
	var b strings.Builder
	b.WriteString("time,inner °C,outer °C\n")
	for s := 0; s < 4200; s += 5 {
		c := 20.0
		for _, on := range []int{60, 2460} {
			switch {
			case s >= on && s < on+600:
				c = 20 + 200*(1-math.Exp(-float64(s-on)/900))
			case s >= on+600 && s < on+2400:
				c = 20 + 200*(1-math.Exp(-600.0/900))*math.Exp(-float64(s-on-600)/700)
			}
		}
		fmt.Fprintf(&b, "%s,%.1f,%.1f\n", clock(s), c+0.05*float64((s/5)%3-1), c-3*(c-20)/100)
	}
	return b.String()
}

func elapsed(s int) string { return fmt.Sprint(s) }

func timeOfDay(s int) string {
	s += 8 * 3600
	return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60)
}

func instant(s int) string { return "2026-03-09 " + timeOfDay(s) }

// The bore reaches 117 °C; 90 °C is left about 230 s after switch-off.
func TestMountedAt(t *testing.T) {
	need := 90.0
	for _, c := range []struct {
		clock func(int) string
		at    string
		want  [2]judge.Verdict // of need-temp, by cycle
		says  string           // in the reason of the cycle that is not passed
	}{
		{elapsed, "700", [2]judge.Verdict{judge.Pass, judge.Pass}, ""},
		{elapsed, "1500", [2]judge.Verdict{judge.Fail, judge.Pass}, "mount"},
		{elapsed, "3100", [2]judge.Verdict{judge.Pass, judge.Pass}, ""},
		{elapsed, "3900", [2]judge.Verdict{judge.Pass, judge.Fail}, "mount"},
		{elapsed, "9000", [2]judge.Verdict{judge.Pass, judge.Unproven}, "mount"},
		{timeOfDay, "08:11:40", [2]judge.Verdict{judge.Pass, judge.Pass}, ""},
		{timeOfDay, "08:25", [2]judge.Verdict{judge.Fail, judge.Pass}, "mount"},
		{instant, "2026-03-09 09:05", [2]judge.Verdict{judge.Pass, judge.Fail}, "mount"},
		{elapsed, "08:25", [2]judge.Verdict{judge.Unproven, judge.Unproven}, "no clock time"},
		{timeOfDay, "2026-03-09 08:25", [2]judge.Verdict{judge.Unproven, judge.Unproven}, "no date"},
		{elapsed, "10", [2]judge.Verdict{judge.Unproven, judge.Unproven}, "before the first heating cycle"},
	} {
		var a analyze.Analyzer
		tolerance := 1.0
		s := analyze.Settings{Judge: judge.Settings{NeedTempC: &need, ProbeToleranceK: &tolerance}, MountedAt: c.at}
		if err := s.Check(); err != nil {
			t.Fatal(err)
		}
		r := a.Log("log.csv", strings.NewReader(twoWarmings(c.clock)), s)
		if r.Err != nil || len(r.Cycles) != 2 {
			t.Fatalf("%s: %v, %d cycles", c.at, r.Err, len(r.Cycles))
		}
		for i, want := range c.want {
			f := r.Cycles[i].Judgement.Finding(judge.NeedTemp)
			if f.Verdict != want {
				t.Errorf("mounted at %s, cycle %d: need-temp %v, want %v: %s", c.at, i+1, f.Verdict, want, f.Reason)
			}
			if want != judge.Pass && c.says != "" && !strings.Contains(f.Reason, c.says) {
				t.Errorf("mounted at %s, cycle %d: the reason does not say %q: %s", c.at, i+1, c.says, f.Reason)
			}
		}
	}
}

func TestMountedAtIsRefused(t *testing.T) {
	need := 90.0
	for _, text := range []string{"soon", "-5", "NaN", "25:00", "2026-13-01 10:00"} {
		s := analyze.Settings{Judge: judge.Settings{NeedTempC: &need}, MountedAt: text}
		if err := s.Check(); err == nil || !strings.Contains(err.Error(), "--mounted-at") {
			t.Errorf("--mounted-at %s: %v", text, err)
		}
	}
	s := analyze.Settings{MountedAt: "600"}
	if err := s.Check(); err == nil || !strings.Contains(err.Error(), "needed temperature") {
		t.Errorf("--mounted-at without a need: %v", err)
	}
}
