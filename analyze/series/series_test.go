package series

import (
	"math"
	"testing"
)

func TestMissingIsNoNumber(t *testing.T) {
	if !IsMissing(Missing()) || IsMissing(0) || IsMissing(math.Inf(1)) || IsMissing(-273.15) {
		t.Error("a missing sample is not told from a number")
	}
}

func TestWithRole(t *testing.T) {
	l := Log{Channels: []Channel{{Role: Outer}, {Role: Inner}, {}, {Role: Inner}}}
	if got := l.WithRole(Inner); len(got) != 2 || got[0] != 1 || got[1] != 3 {
		t.Errorf("inner channels %v, want 1 and 3 in file order", got)
	}
	if got := l.WithRole(Shaft); got != nil {
		t.Errorf("shaft channels %v, want none", got)
	}
}

// The duration is to the latest row, wherever it stands: a clock may step back.
func TestDuration(t *testing.T) {
	for _, c := range []struct {
		times []float64
		want  float64
	}{{nil, 0}, {[]float64{0}, 0}, {[]float64{0, 5, 9}, 9}, {[]float64{0, 50, 20, 30}, 50}} {
		l := Log{TimeS: c.times}
		if got := l.DurationS(); got != c.want {
			t.Errorf("%v lasts %v s, want %v", c.times, got, c.want)
		}
	}
}

func TestEveryRoleAndSourceHasAName(t *testing.T) {
	for r := Inner; r <= SetPoint; r++ {
		if r.String() == "" {
			t.Errorf("role %d has no name", r)
		}
	}
	for s := ByOrder; s <= ByFlag; s++ {
		if s.String() == "" {
			t.Errorf("source %d has no name", s)
		}
	}
}
