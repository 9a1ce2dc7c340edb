package analyze

import (
	"io"

	"ringheat/analyze/ingest"
	"ringheat/analyze/series"
)

// Survey is how one log is read, without any judgement: the reading, the range of every channel, the
// first rows, and each channel's course in few enough points to draw with letters.
type Survey struct {
	Name    string
	Err     error // why the log could not be read
	Log     *series.Log
	Reading ingest.Reading
	Spans   []ingest.ChannelSpan
	Preview []PreviewRow
	Course  Course
}

// PreviewRow is one of the first rows: its line, its time and every channel's value, NaN for a missing sample.
type PreviewRow struct {
	Line  int
	TimeS float64
	C     []float64
}

// previewRows is how many rows a Survey shows.
const previewRows = 5

// Look reads a log and says how. stream reads it in bounded memory, for logs too long to hold; see
// ingest.Scanner for what that leaves out. saved is a saved reading that the log must suit, or nil.
func Look(name string, in io.Reader, o ingest.Options, saved *ingest.Saved, stream bool) Survey {
	s := Survey{Name: name}
	if !stream {
		var reader ingest.Reader
		read, err := reader.ReadSaved(name, in, o, saved)
		if err != nil {
			s.Err = err
			return s
		}
		s.Log, s.Reading = read.Log, read.Reading
		s.Spans = ingest.Spans(s.Log)
		all := ingest.Block{TimeS: s.Log.TimeS, Lines: s.Log.Lines}
		for i := range s.Log.Channels {
			all.C = append(all.C, s.Log.Channels[i].C)
		}
		s.add(&all)
		return s
	}
	scanner := ingest.NewScanner(name, in, o)
	for scanner.Scan() {
		s.add(scanner.Block())
	}
	if err := scanner.Err(); err != nil {
		return Survey{Name: name, Err: err}
	}
	r := scanner.Result()
	if err := saved.Use(r); err != nil {
		return Survey{Name: name, Err: err}
	}
	s.Log, s.Reading, s.Spans = r.Log, r.Reading, scanner.Spans()
	return s
}

func (s *Survey) add(b *ingest.Block) {
	for i := 0; i < len(b.TimeS) && len(s.Preview) < previewRows; i++ {
		row := PreviewRow{Line: int(b.Lines[i]), TimeS: b.TimeS[i]}
		for _, c := range b.C {
			row.C = append(row.C, c[i])
		}
		s.Preview = append(s.Preview, row)
	}
	s.Course.add(b)
}

// Course is the course of all channels in at most courseCells stretches of equally many rows. While it
// grows, neighbouring stretches are joined, so its memory does not depend on the log's length.
type Course struct {
	rowsPerCell int
	rows        int
	Cells       []CourseCell
}

// CourseCell is one stretch of rows: its times, and the lowest and highest reading of each channel (NaN: none).
type CourseCell struct {
	FromS, ToS float64
	Low, High  []float64
}

const courseCells = 256

func (c *Course) add(b *ingest.Block) {
	if c.rowsPerCell == 0 {
		c.rowsPerCell = 1
	}
	for i, t := range b.TimeS {
		if c.rows == len(c.Cells)*c.rowsPerCell {
			if len(c.Cells) == courseCells {
				c.join()
			}
			if c.rows == len(c.Cells)*c.rowsPerCell {
				cell := CourseCell{FromS: t, Low: make([]float64, len(b.C)), High: make([]float64, len(b.C))}
				for k := range cell.Low {
					cell.Low[k], cell.High[k] = series.Missing(), series.Missing()
				}
				c.Cells = append(c.Cells, cell)
			}
		}
		c.rows++
		last := &c.Cells[len(c.Cells)-1]
		last.ToS = t
		for k := range b.C {
			widen(&last.Low[k], &last.High[k], b.C[k][i])
		}
	}
}

// join halves the number of cells.
func (c *Course) join() {
	half := len(c.Cells) / 2
	for i := range half {
		a, b := c.Cells[2*i], c.Cells[2*i+1]
		a.ToS = b.ToS
		for k := range a.Low {
			widen(&a.Low[k], &a.High[k], b.Low[k])
			widen(&a.Low[k], &a.High[k], b.High[k])
		}
		c.Cells[i] = a
	}
	c.Cells = c.Cells[:half]
	c.rowsPerCell *= 2
}

func widen(low, high *float64, v float64) {
	switch {
	case series.IsMissing(v):
	case series.IsMissing(*low):
		*low, *high = v, v
	default:
		*low, *high = min(*low, v), max(*high, v)
	}
}
