package clock

import (
	"fmt"
	"testing"
	"time"
)

// benchColumn reads 4096 rows that a layout writes a second apart.
func benchColumn(b *testing.B, write func(i int, t time.Time) string) {
	start := time.Date(2024, 5, 13, 8, 36, 0, 0, time.UTC)
	cells := make([][]byte, 4096)
	t := Table{Columns: []Column{{Heading: "Time"}}, Headed: true}
	for i := range cells {
		cells[i] = []byte(write(i, start.Add(time.Duration(i)*time.Second)))
		if i < 60 {
			t.Rows = append(t.Rows, [][]byte{cells[i]})
		}
	}
	best := Detect(t, Settings{}).Candidates
	if len(best) == 0 {
		b.Fatalf("%q is not read as time", cells[0])
	}
	plan := best[0].Plan
	b.ReportAllocs()
	for b.Loop() {
		r := plan.Reader()
		for _, c := range cells {
			if _, st := r.ParseCell(c); st != OK {
				b.Fatalf("%q is bad", c)
			}
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(cells)), "ns/cell")
}

func layout(l string) func(int, time.Time) string {
	return func(_ int, t time.Time) string { return t.Format(l) }
}

func BenchmarkISO(b *testing.B)     { benchColumn(b, layout("2006-01-02T15:04:05Z07:00")) }
func BenchmarkISOFrac(b *testing.B) { benchColumn(b, layout("2006-01-02 15:04:05.000")) }
func BenchmarkDMY(b *testing.B)     { benchColumn(b, layout("02.01.2006 15:04:05")) }
func BenchmarkAMPM(b *testing.B)    { benchColumn(b, layout("01/02/2006 03:04:05 PM")) }
func BenchmarkLast(b *testing.B)    { benchColumn(b, layout("15:04:05 02/Jan/2006")) }
func BenchmarkGlued(b *testing.B)   { benchColumn(b, layout("20060102150405")) }
func BenchmarkClock(b *testing.B)   { benchColumn(b, layout("15:04:05")) }
func BenchmarkSeconds(b *testing.B) {
	benchColumn(b, func(i int, _ time.Time) string { return fmt.Sprint(i) })
}
func BenchmarkDecimals(b *testing.B) {
	benchColumn(b, func(i int, _ time.Time) string { return fmt.Sprintf("%.2f", float64(i)) })
}
func BenchmarkScientific(b *testing.B) {
	benchColumn(b, func(i int, _ time.Time) string { return fmt.Sprintf("%.18e", float64(i)*3.001) })
}
func BenchmarkUnixMS(b *testing.B) {
	benchColumn(b, func(_ int, t time.Time) string { return fmt.Sprint(t.UnixMilli()) })
}
func BenchmarkElapsedHMS(b *testing.B) {
	benchColumn(b, func(i int, _ time.Time) string { return fmt.Sprintf("%d:%02d:%02d", i/3600, i/60%60, i%60) })
}

// BenchmarkLibraryISO is time.Parse on the ISO cells, for comparison.
func BenchmarkLibraryISO(b *testing.B) {
	s := time.Date(2024, 5, 13, 8, 36, 0, 0, time.UTC).Format("2006-01-02 15:04:05")
	for b.Loop() {
		if _, err := time.Parse("2006-01-02 15:04:05", s); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkDetect is the search among eight columns and 60 rows.
func BenchmarkDetect(b *testing.B) {
	t := Table{Headed: true, Columns: []Column{{Heading: "Time"}, {Heading: "Inner (C)"}, {Heading: "Outer (C)"}, {Heading: "Power"}}}
	for i := range 60 {
		t.Rows = append(t.Rows, [][]byte{[]byte(fmt.Sprint(i)), []byte(fmt.Sprintf("%.1f", 20+float64(i)/3)), []byte("23.4"), []byte("1800")})
	}
	iso := Table{Headed: true, Columns: t.Columns}
	for i, r := range t.Rows {
		when := time.Date(2024, 5, 13, 8, 36, i, 0, time.UTC).Format("2006-01-02 15:04:05")
		iso.Rows = append(iso.Rows, append([][]byte{[]byte(when)}, r[1:]...))
	}
	for name, t := range map[string]Table{"seconds": t, "iso": iso} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Detect(t, Settings{})
			}
		})
	}
}
