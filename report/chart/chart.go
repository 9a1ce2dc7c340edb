// Package chart draws a heating cycle, and the bore temperature that a seat needs, as PNG pictures.
//
// It is the last stage for the eye: it is given plain numbers and finished sentences, and draws them.
// It computes no result. What it decides is where things stand: the ranges of the axes, which strip
// of the sheet a text gets, how labels that want the same place are moved apart.
//
// The sheet is 600 points wide whatever its size in pixels, which is A4 paper held upright, so a size
// in this package is a size in print and nothing is set smaller than 9 points. Texts never
// share a place with data: title, reasons, legend, moments, level labels and cautions each have a strip
// outside the panels. Colours are those of the Okabe-Ito set for colour-blind readers (public), and
// none carries a meaning alone: dashes, markers, hatching and words say the same in grey.
//
// It builds on the drawing layers of gonum/plot (vg, vg/draw, font). The root package of that library is
// left out on purpose: its start-up parses twelve fonts, which every run of the program would pay.
package chart

import (
	"fmt"
	"io"

	"ringheat/analyze/judge"
	"ringheat/analyze/series"
)

// Size is a picture's size in pixels. The zero Size is 1200 x 800.
type Size struct{ Width, Height int }

// The sizes that can be drawn: smaller ones can't be read, larger ones serve no printer.
const (
	minWidth, maxWidth = 400, 8000
	minAspect          = 0.6 // height over width
	maxAspect          = 2.0
)

func (s Size) orDefault() (Size, error) {
	if s == (Size{}) {
		return Size{Width: 1200, Height: 800}, nil
	}
	aspect := float64(s.Height) / float64(max(s.Width, 1))
	if s.Width < minWidth || s.Width > maxWidth || aspect < minAspect || aspect > maxAspect {
		return s, fmt.Errorf("picture of %d x %d pixels: want a width of %d to %d and a height of %g to %g times the width",
			s.Width, s.Height, minWidth, maxWidth, minAspect, maxAspect)
	}
	return s, nil
}

// CycleChart is everything that a picture of one heating cycle shows. Times are seconds on the log's
// own axis, temperatures °C, differences K. NaN stands for a missing sample; an
// infinite or absurd value is left out as well. No slice is changed or kept.
type CycleChart struct {
	Title   []string // the first line is set bold; at most three lines are shown
	Verdict judge.Verdict
	Scope   string   // what the verdict is for, beside its word ("heat and evenness; seat not asked"); "" for all
	Reasons []string // the sentences that matter, most important first; wrapped, cut with an ellipsis if they don't fit

	TimeLabel string  // "time since the log's first row"; the unit (s, min or h) is added
	Traces    []Trace // in drawing order
	Curves    []Curve
	Levels    []Level
	Moments   []Moment
	Diff      *Diff  // nil: no second panel
	DiffNote  string // why there is no second panel; shown in its place unless empty

	Footer []string // cautions first, then what identifies the record (hash, version)
}

// Trace is one probe's readings.
type Trace struct {
	Name   string
	Role   series.Role // chooses colour and marker
	TimeS  []float64
	C      []float64 // as long as TimeS; NaN where a sample is missing
	Spikes []int32   // indices of samples that are no temperatures: marked by a cross, never joined to the line
}

// Curve is a fitted first-order curve, drawn over its own window only:
// T(t) = StartC + RateKPerS (1 - exp(-k (t - T0S)))/k with k = DecayPerS, a straight line at k = 0.
type Curve struct {
	Role       series.Role
	FromS, ToS float64 // the window that was fitted
	T0S        float64
	StartC     float64
	RateKPerS  float64
	DecayPerS  float64
	Text       string // name and numbers of the formula, for the legend
}

// LevelKind says what a level is.
type LevelKind uint8

// The kinds of level.
const (
	ToleranceLimit  LevelKind = iota // traces are shaded where they pass above it
	AcceptanceLimit                  // after the guard band
	NeededTemp
	SetPointLevel
)

// Level is a temperature drawn as a line across the panel, with its label at its end.
type Level struct {
	Kind  LevelKind
	C     float64
	Label string
}

func (l *Level) drawable() bool { return drawable(l.C) }

// Moment is a point in time marked by an upright line, with its label above the panel.
type Moment struct {
	AtS   float64
	Label string
}

// Diff is the difference of two traces, drawn in a panel of its own below the first, on the same
// time axis. It is shaded where its size is beyond LimitK.
type Diff struct {
	Label      string // of the axis: "inner - outer, K"
	TimeS      []float64
	K          []float64 // as long as TimeS; NaN where it is not known
	Spikes     []int32   // indices that the line passes over: one of the two readings is no temperature
	LimitK     float64   // both +LimitK and -LimitK are limits; 0 for none
	LimitLabel string
}

// Drawer draws pictures. The zero value is ready; it keeps fonts and buffers from picture to picture,
// so use one for many. It is not safe for use by several goroutines at once.
type Drawer struct {
	letters typesetter
	scratch scratch
	raster  raster
}

// Cycle writes the picture of one heating cycle to w as a PNG. The same input gives the same bytes.
func (d *Drawer) Cycle(w io.Writer, c CycleChart, size Size) error {
	for i, tr := range c.Traces {
		if len(tr.TimeS) != len(tr.C) {
			return fmt.Errorf("trace %d (%s): %d times for %d temperatures", i+1, tr.Name, len(tr.TimeS), len(tr.C))
		}
	}
	if c.Diff != nil && len(c.Diff.TimeS) != len(c.Diff.K) {
		return fmt.Errorf("difference: %d times for %d values", len(c.Diff.TimeS), len(c.Diff.K))
	}
	sh, err := d.begin(size)
	if err != nil {
		return err
	}
	drawCycle(sh, &c)
	return d.raster.encode(w)
}

// begin starts an empty sheet.
func (d *Drawer) begin(size Size) (*sheet, error) {
	size, err := size.orDefault()
	if err != nil {
		return nil, err
	}
	if err := d.letters.load(); err != nil {
		return nil, err
	}
	return newSheet(d.raster.begin(size), size, &d.letters, &d.scratch), nil
}
