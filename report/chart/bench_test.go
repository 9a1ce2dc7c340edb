package chart

import (
	"bytes"
	"io"
	"testing"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/plotter"
	"gonum.org/v1/plot/vg"

	"ringheat/analyze/series"
)

// benchmarkChart has three lines of 3000 points: two rings and their difference.
func benchmarkChart() CycleChart {
	h := heat{spanS: 2999, offS: 2400, onS: 60, n: 3000, startC: 21, innerKPerS: 0.052, outerKPerS: 0.043, couplingPerS: 0.004, lossPerS: 0.0001, noiseK: 0.1, seed: 11}
	return h.cycle(120, 92, 20)
}

// BenchmarkCycle draws the full picture: panels, shadings, legend, verdict, texts.
func BenchmarkCycle(b *testing.B) {
	c := benchmarkChart()
	var d Drawer
	var buf bytes.Buffer
	b.ReportAllocs()
	for b.Loop() {
		buf.Reset()
		if err := d.Cycle(&buf, c, Size{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(buf.Len()), "bytes/picture")
}

// BenchmarkFirstCycle pays for the fonts and the buffers as well, as a program that draws one picture does.
func BenchmarkFirstCycle(b *testing.B) {
	c := benchmarkChart()
	for b.Loop() {
		var d Drawer
		if err := d.Cycle(io.Discard, c, Size{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLongLog draws ten hours at one sample a second.
func BenchmarkLongLog(b *testing.B) {
	h := heat{spanS: 36000, offS: 30000, onS: 600, n: 36001, startC: -18.2, innerKPerS: 0.016, outerKPerS: 0.0145, couplingPerS: 0.0004, lossPerS: 0.00003, noiseK: 0.3, seed: 6}
	c := h.cycle(380, 300, 60)
	var d Drawer
	for b.Loop() {
		if err := d.Cycle(io.Discard, c, Size{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkLibraryDefault is the library's ready-made way to a picture of the same three lines, without any
// of the rest: a Plot, three plotter.Lines, and its PNG.
func BenchmarkLibraryDefault(b *testing.B) {
	c := benchmarkChart()
	points := func(x, y []float64) plotter.XYs {
		out := make(plotter.XYs, len(x))
		for i := range x {
			out[i] = plotter.XY{X: x[i], Y: y[i]}
		}
		return out
	}
	var buf bytes.Buffer
	for b.Loop() {
		p := plot.New()
		p.X.Label.Text, p.Y.Label.Text = "time, s", wordTemperature
		for _, v := range [][]float64{c.Traces[0].C, c.Traces[1].C, c.Diff.K} {
			l, err := plotter.NewLine(points(c.Traces[0].TimeS, v))
			if err != nil {
				b.Fatal(err)
			}
			l.Color, l.Width = traceLook(series.Inner, 0).colour, vg.Points(1.4)
			p.Add(l)
		}
		w, err := p.WriterTo(12.5*vg.Inch, 12.5*2/3.0*vg.Inch, "png") // 1200 x 800 at 96 dots an inch
		if err != nil {
			b.Fatal(err)
		}
		buf.Reset()
		if _, err := w.WriteTo(&buf); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(buf.Len()), "bytes/picture")
}
