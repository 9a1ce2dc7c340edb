package ingest

import (
	"bytes"
	"io"
	"runtime"
	"strconv"
	"strings"
	"testing"

	"ringheat/analyze/series"
)

// endless makes rows as they are read, without holding them.
type endless struct {
	row, rows int
	held      []byte
}

func (e *endless) Read(p []byte) (int, error) {
	for len(e.held) < len(p) && e.row < e.rows {
		if e.row == 0 {
			e.held = append(e.held, "time_s,inner_c,outer_c\n"...)
		}
		e.held = strconv.AppendInt(e.held, int64(e.row), 10)
		if e.row%1000 == 999 {
			e.held = append(e.held, ",OL,20.5\n"...)
		} else {
			e.held = append(e.held, ",20.5,21.5\n"...)
		}
		e.row++
	}
	if len(e.held) == 0 {
		return 0, io.EOF
	}
	n := copy(p, e.held)
	e.held = e.held[:copy(e.held, e.held[n:])]
	return n, nil
}

// The memory that a scan takes does not grow with the log.
func TestScannerIsBounded(t *testing.T) {
	rows := 3_000_000 // 50 MB
	if testing.Short() || raceEnabled {
		rows = 300_000
	}
	s := NewScanner("long", &endless{rows: rows}, Options{})
	n, peak := 0, uint64(0)
	var m runtime.MemStats
	for s.Scan() {
		b := s.Block()
		if len(b.TimeS) > BlockRows || b.FirstRow != n {
			t.Fatalf("block of %d rows at %d, want at most %d at %d", len(b.TimeS), b.FirstRow, BlockRows, n)
		}
		n += len(b.TimeS)
		if b.FirstRow%(40*BlockRows) == 0 {
			runtime.GC()
			runtime.ReadMemStats(&m)
			peak = max(peak, m.HeapAlloc)
		}
	}
	if s.Err() != nil {
		t.Fatal(s.Err())
	}
	if n != rows {
		t.Errorf("%d rows, want %d", n, rows)
	}
	if peak > 24<<20 {
		t.Errorf("%d MiB in use", peak>>20)
	}
	l := s.Result().Log
	if l.Rows.Total != rows+1 || l.Clock.IntervalS != 1 || l.Channels[0].MissingKind["OL"] != rows/1000 || l.Channels[0].Valid != rows-rows/1000 || s.Spans()[1].MaxC != 21.5 {
		t.Errorf("%+v %+v %+v %+v", l.Rows, l.Clock, l.Channels, s.Spans())
	}
}

// In blocks or at once, a log is the same.
func TestScannerAgreesWithReader(t *testing.T) {
	var b strings.Builder
	b.WriteString("Logger;7\n\ntime;inner [°F];outer [°F]\n")
	for i := range 10000 {
		sec := i
		if i > 5000 {
			sec += 60
		}
		b.WriteString(strconv.Itoa(sec) + ";" + strconv.Itoa(70+i%90) + ",5;" + []string{"71,0", "---", "OL"}[i%3] + "\n")
		if i%997 == 0 {
			b.WriteString("damaged\n")
		}
	}
	log := b.String()
	want, err := Read("log", strings.NewReader(log), Options{})
	if err != nil {
		t.Fatal(err)
	}
	checkAccount(t, want, countLines(log))
	s := NewScanner("log", bytes.NewReader([]byte(log)), Options{})
	row := 0
	for s.Scan() {
		blk := s.Block()
		for i := range blk.TimeS {
			if blk.TimeS[i] != want.Log.TimeS[row] || blk.Lines[i] != want.Log.Lines[row] {
				t.Fatalf("row %d: %v s on line %d, want %v on %d", row, blk.TimeS[i], blk.Lines[i], want.Log.TimeS[row], want.Log.Lines[row])
			}
			for k := range blk.C {
				x, y := blk.C[k][i], want.Log.Channels[k].C[row]
				if x != y && !(series.IsMissing(x) && series.IsMissing(y)) {
					t.Fatalf("row %d channel %d: %v, want %v", row, k, x, y)
				}
			}
			row++
		}
	}
	if s.Err() != nil || row != want.Log.Len() {
		t.Fatalf("%d rows of %d, %v", row, want.Log.Len(), s.Err())
	}
	got := s.Result()
	if got.Log.SHA256 != want.Log.SHA256 || got.Log.ProblemCount != want.Log.ProblemCount || got.Log.Clock.IntervalS != want.Log.Clock.IntervalS || len(got.Log.Clock.Events) != 1 || len(want.Log.Clock.Events) != 1 {
		t.Errorf("scanner %+v %d, reader %+v %d", got.Log.Clock, got.Log.ProblemCount, want.Log.Clock, want.Log.ProblemCount)
	}
	if strings.Join(got.Reading.Flags, " ") != strings.Join(want.Reading.Flags, " ") {
		t.Errorf("flags %q, want %q", got.Reading.Flags, want.Reading.Flags)
	}
	if sp := Spans(want.Log); sp[0] != s.Spans()[0] {
		t.Errorf("spans %+v, want %+v", s.Spans()[0], sp[0])
	}
}
