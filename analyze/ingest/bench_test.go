package ingest

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"testing"
)

// cleanLog makes a clean log in memory: elapsed seconds and three probes.
func cleanLog(rows int) []byte {
	var b bytes.Buffer
	b.WriteString("time_s,inner_c,outer_c,ambient_c\n")
	for i := range rows {
		x := float64(i)
		fmt.Fprintf(&b, "%d.0,%.1f,%.1f,%.1f\n", i, 20+90*(1-math.Exp(-x/900)), 20+80*(1-math.Exp(-x/1000)), 20+0.2*math.Sin(x))
	}
	return b.Bytes()
}

// datedLog is the same with a date and time of day.
func datedLog(rows int) []byte {
	var b bytes.Buffer
	b.WriteString("time,inner_c,outer_c,ambient_c\n")
	for i := range rows {
		x := float64(i)
		fmt.Fprintf(&b, "2026-03-01T%02d:%02d:%02d,%.1f,%.1f,%.1f\n", 8+i/3600%16, i/60%60, i%60, 20+90*(1-math.Exp(-x/900)), 20+80*(1-math.Exp(-x/1000)), 20+0.2*math.Sin(x))
	}
	return b.Bytes()
}

func benchmarkRead(b *testing.B, log []byte) {
	var r Reader
	b.SetBytes(int64(len(log)))
	b.ReportAllocs()
	for b.Loop() {
		res, err := r.Read("log", bytes.NewReader(log), Options{})
		if err != nil {
			b.Fatal(err)
		}
		if res.Log.Rows.Problems != 0 {
			b.Fatal("problems")
		}
	}
}

// One log as loggers write them: 2200 rows, 60 kB. The plan is made anew for each.
func BenchmarkReadSmall(b *testing.B)      { benchmarkRead(b, cleanLog(2200)) }
func BenchmarkReadSmallDated(b *testing.B) { benchmarkRead(b, datedLog(2200)) }

// A long log, where the rows count alone.
func BenchmarkReadLong(b *testing.B)      { benchmarkRead(b, cleanLog(50000)) }
func BenchmarkReadLongDated(b *testing.B) { benchmarkRead(b, datedLog(50000)) }

func BenchmarkScanLong(b *testing.B) {
	log := cleanLog(50000)
	b.SetBytes(int64(len(log)))
	b.ReportAllocs()
	for b.Loop() {
		s := NewScanner("log", bytes.NewReader(log), Options{})
		for s.Scan() {
		}
		if s.Err() != nil {
			b.Fatal(s.Err())
		}
	}
}

// The reference: encoding/csv and strconv.ParseFloat on the same bytes, with the record reused, told everything.
func BenchmarkReferenceCSV(b *testing.B) {
	log := cleanLog(50000)
	b.SetBytes(int64(len(log)))
	b.ReportAllocs()
	var columns [4][]float64
	for b.Loop() {
		r := csv.NewReader(bytes.NewReader(log))
		r.ReuseRecord = true
		if _, err := r.Read(); err != nil {
			b.Fatal(err)
		}
		for i := range columns {
			columns[i] = columns[i][:0]
		}
		for {
			rec, err := r.Read()
			if err == io.EOF {
				break
			}
			if err != nil {
				b.Fatal(err)
			}
			for i, c := range rec {
				v, err := strconv.ParseFloat(c, 64)
				if err != nil {
					b.Fatal(err)
				}
				columns[i] = append(columns[i], v)
			}
		}
	}
}
