package clock

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"
)

// Logs of known times in every layout, with gaps, at any interval and date: what comes out is right, or a question is asked. Never
// silently wrong.
func TestRightOrAsked(t *testing.T) {
	n := 60
	if raceEnabled || testing.Short() {
		n = 5
	}
	asked, total := 0, 0
	for li, l := range layouts {
		for seed := range n {
			rnd := rand.New(rand.NewPCG(uint64(li), uint64(seed)))
			interval := []time.Duration{time.Second, 5 * time.Second, 10 * time.Second, time.Minute, 15 * time.Minute, time.Hour, 24 * time.Hour}[rnd.IntN(7)]
			interval = max(interval, l.unit)
			now := time.Unix(rnd.Int64N(1_600_000_000)+100_000_000, 0).UTC().Truncate(l.unit)
			rows := 2 + rnd.IntN(80)
			var times []time.Time
			var lines []string
			for range rows {
				times = append(times, now)
				lines = append(lines, now.Format(l.layout)+fmt.Sprintf("|%.1f", 20+rnd.Float64()))
				step := interval
				if rnd.IntN(30) == 0 {
					// A gap of less than twenty days: a longer one may look like a night under the other order, and then
					// the shorter is taken, with its evidence.
					step += time.Duration(rnd.Int64N(int64(min(3000, 19*24*time.Hour/interval)))) * interval
				}
				now = now.Add(step)
			}
			tb := rowsOf("Time|Inner (C)", lines...)
			d, secs, sts, o := readAll(t, tb, Settings{})
			total++
			if d.Best() == nil {
				t.Errorf("%s: %q is not read as time", l.layout, lines[0])
				continue
			}
			if len(o.Questions)+len(d.Questions) > 0 {
				asked++
				continue
			}
			for i := range times {
				if want := times[i].Sub(times[0]).Seconds(); sts[i] != OK || abs64(secs[i]-want) > 1e-6*max(1, want/1e6) {
					t.Errorf("%s, seed %d: row %d of %d: %q after %q: %v s, want %v; %s %v", l.layout, seed, i, rows, lines[i], lines[0], secs[i], want, o.Format, o.Evidence)
					break
				}
			}
			if l.layout == "06/01/02 15:04:05" {
				continue // by custom a two-digit year does not stand first before a slash: the date may be misread, the times not
			}
			if !o.DateAmbiguous && !o.Start.Equal(times[0]) {
				t.Errorf("%s, seed %d: start %v, want %v; %s %v", l.layout, seed, o.Start, times[0], lines[0], o.Evidence)
			}
		}
	}
	if asked*10 > total {
		t.Errorf("%d of %d logs end in a question", asked, total)
	}
	t.Logf("%d of %d logs end in a question", asked, total)
}

// The same for clocks without a date and for lengths of time, in all their ways of writing.
func TestRightOrAskedWithoutDate(t *testing.T) {
	n := 300
	if raceEnabled || testing.Short() {
		n = 30
	}
	hms := func(d time.Duration) (h, m, s int) {
		x := int(d / time.Second)
		return x / 3600, x / 60 % 60, x % 60
	}
	forms := []struct {
		name, head string
		write      func(d time.Duration) string
		unit       time.Duration
	}{
		{"seconds", "Time (s)", func(d time.Duration) string { return fmt.Sprintf("%.1f", d.Seconds()) }, 100 * time.Millisecond},
		{"whole seconds, no unit", "Time", func(d time.Duration) string { return fmt.Sprint(int(d.Seconds())) }, time.Second},
		{"milliseconds", "t_ms", func(d time.Duration) string { return fmt.Sprint(d.Milliseconds()) }, time.Millisecond},
		{"minutes", "Zeit [min]", func(d time.Duration) string { return fmt.Sprintf("%.9f", d.Minutes()) }, time.Second},
		{"hours", "Elapsed hours", func(d time.Duration) string { return fmt.Sprintf("%.12f", d.Hours()) }, time.Second},
		{"scientific", "Time (s)", func(d time.Duration) string { return fmt.Sprintf("%.18e", d.Seconds()) }, time.Millisecond},
		{"h:mm:ss", "Elapsed", func(d time.Duration) string { h, m, s := hms(d); return fmt.Sprintf("%d:%02d:%02d", h, m, s) }, time.Second},
		{"hh:mm:ss.f", "Laufzeit", func(d time.Duration) string {
			h, m, s := hms(d)
			return fmt.Sprintf("%02d:%02d:%02d.%d", h, m, s, d%time.Second/(100*time.Millisecond))
		}, 100 * time.Millisecond},
		{"mm:ss", "Time (mm:ss)", func(d time.Duration) string { h, m, s := hms(d); return fmt.Sprintf("%02d:%02d", 60*h+m, s) }, time.Second},
		{"d:hh:mm:ss", "Elapsed (d:hh:mm:ss)", func(d time.Duration) string {
			h, m, s := hms(d)
			return fmt.Sprintf("%d:%02d:%02d:%02d", h/24, h%24, m, s)
		}, time.Second},
		{"ISO duration", "Elapsed", func(d time.Duration) string { h, m, s := hms(d); return fmt.Sprintf("PT%dH%dM%dS", h, m, s) }, time.Second},
		{"words", "Elapsed", func(d time.Duration) string { h, m, s := hms(d); return fmt.Sprintf("%d h %d min %d s", h, m, s) }, time.Second},
	}
	for fi, f := range forms {
		for seed := range n {
			rnd := rand.New(rand.NewPCG(uint64(fi), uint64(seed)))
			interval := []time.Duration{100 * time.Millisecond, time.Second, 2 * time.Second, 5 * time.Second, 10 * time.Second, time.Minute, 10 * time.Minute}[rnd.IntN(7)]
			interval = max(interval, f.unit)
			now := time.Duration(rnd.IntN(3)) * time.Duration(rnd.IntN(500)) * interval
			var times []time.Duration
			var lines []string
			for range 3 + rnd.IntN(80) {
				times = append(times, now)
				lines = append(lines, f.write(now)+fmt.Sprintf("|%.1f", 20+rnd.Float64()))
				now += interval
				if rnd.IntN(30) == 0 {
					now += time.Duration(rnd.IntN(20)) * interval
				}
			}
			tb := rowsOf(f.head+"|Inner (C)", lines...)
			d, secs, sts, o := readAll(t, tb, Settings{})
			if d.Best() == nil {
				t.Errorf("%s: %q is not read as time", f.name, lines[0])
				continue
			}
			if len(o.Questions)+len(d.Questions) > 0 {
				continue
			}
			for i := range times {
				if want := (times[i] - times[0]).Seconds(); sts[i] != OK || abs64(secs[i]-want) > 1e-6 {
					t.Errorf("%s, seed %d: row %d: %q after %q: %v s, want %v; %s: %s", f.name, seed, i, strings.Split(lines[i], "|")[0], lines[0], secs[i], want, o.Format, d.Best().Evidence)
					break
				}
			}
		}
	}
}
