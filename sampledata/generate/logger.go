package generate

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

// Quantity is what one column of a log holds.
type Quantity uint8

// The quantities a column can hold. Clock columns are written as ClockForm says; DateOnly stands beside a Clock
// column that shows the time of day.
const (
	Clock Quantity = iota
	DateOnly
	InnerProbe
	OuterProbe
	AirProbe
	SetPoint
	PowerPercent
)

// ClockForm is how a logger writes the time of a row.
type ClockForm uint8

// The forms of a clock.
const (
	Seconds      ClockForm = iota // elapsed seconds, "12" or "12.0"
	Minutes                       // elapsed minutes with three decimals
	HourMinSec                    // elapsed h:mm:ss
	TimeOfDay                     // hh:mm:ss of the day
	TimeOfDayMin                  // hh:mm of the day
	ISOZulu                       // 2026-03-04T09:12:00Z
	ISOSpace                      // 2026-03-04 09:12:00
)

// Unit is the temperature unit a logger writes.
type Unit uint8

// The units.
const (
	DegC Unit = iota
	DegF
	DegK
)

// Column is one column of a log.
type Column struct {
	Heading string
	Unit    string // for the unit row; not written if the dialect has none
	Holds   Quantity
}

// Dialect is how one logger writes its file.
type Dialect struct {
	Preamble  []string
	Columns   []Column
	UnitRow   bool
	Delimiter string
	Comma     bool // decimal comma
	Clock     ClockForm
	ClockDec  int // decimals of elapsed seconds
	Unit      Unit
	StepUnits float64 // display step in the unit written; 0 means 0.1
	Decimals  int
	Footer    []string
	CRLF      bool
	BOM       bool
	Latin1    bool
	Quoted    bool // headings in quotes
}

// Log is one log to be made: what happened, who watched, how it was written down.
type Log struct {
	Name      string
	Seed      uint64
	Session   Session
	IntervalS float64 // s between rows
	StopAtS   float64 // the logger was stopped here, s since its first row; 0 means at the session's end
	Start     time.Time
	Dialect   Dialect
}

// Made is a log's bytes and the truth it was made from.
type Made struct {
	Bytes  []byte
	Trace  *Trace
	Rows   int
	Spikes int // rows with a spike on either probe
}

// Make integrates the session and writes the log.
func Make(l *Log) *Made {
	tr := Integrate(&l.Session)
	n := len(tr.Air)
	if l.StopAtS > 0 {
		n = min(n, int(math.Round(l.StopAtS/StepS)))
	}
	rng := newNoise(l.Seed)
	inner := l.Session.Inner.look(rng, tr.InnerShown[:n], tr.PowerW[:n], l.IntervalS)
	outer := l.Session.Outer.look(rng, tr.OuterShown[:n], tr.PowerW[:n], l.IntervalS)
	m := &Made{Trace: tr, Rows: len(inner)}
	for i := range inner {
		if inner[i].Spike || outer[i].Spike {
			m.Spikes++
		}
	}
	m.Bytes = l.write(rng, tr, inner, outer)
	return m
}

func (l *Log) write(rng *noise, tr *Trace, inner, outer []Sample) []byte {
	d := &l.Dialect
	newline := "\n"
	if d.CRLF {
		newline = "\r\n"
	}
	var b strings.Builder
	line := func(cells []string) {
		b.WriteString(strings.Join(cells, d.Delimiter))
		b.WriteString(newline)
	}
	for _, p := range d.Preamble {
		b.WriteString(p + newline)
	}
	var headings, units []string
	for _, c := range d.Columns {
		h := c.Heading
		if d.Quoted {
			h = `"` + h + `"`
		}
		headings, units = append(headings, h), append(units, c.Unit)
	}
	line(headings)
	if d.UnitRow {
		line(units)
	}
	every := int(math.Round(l.IntervalS / StepS))
	full := maxOf(tr.PowerW)
	for row := range inner {
		at := row * every
		cells := make([]string, 0, len(d.Columns))
		for _, c := range d.Columns {
			switch c.Holds {
			case Clock:
				cells = append(cells, l.clock(float64(row)*l.IntervalS))
			case DateOnly:
				cells = append(cells, l.Start.Add(seconds(float64(row)*l.IntervalS)).Format("2006-01-02"))
			case InnerProbe:
				cells = append(cells, d.cell(&l.Session.Inner, inner[row]))
			case OuterProbe:
				cells = append(cells, d.cell(&l.Session.Outer, outer[row]))
			case AirProbe:
				cells = append(cells, d.temperature(tr.Air[at]+0.05*rng.normal()))
			case SetPoint:
				cells = append(cells, d.temperature(tr.SetPointC[at]))
			case PowerPercent:
				cells = append(cells, strconv.Itoa(int(math.Round(100*tr.PowerW[at]/full))))
			}
		}
		line(cells)
	}
	for _, f := range d.Footer {
		b.WriteString(f + newline)
	}
	if d.Latin1 {
		return latin1(b.String())
	}
	if d.BOM {
		return append([]byte("\xef\xbb\xbf"), b.String()...)
	}
	return []byte(b.String())
}

func seconds(s float64) time.Duration { return time.Duration(math.Round(s*1000)) * time.Millisecond }

func (l *Log) clock(atS float64) string {
	d := &l.Dialect
	now := l.Start.Add(seconds(atS))
	switch d.Clock {
	case Minutes:
		return d.number(atS/60, 3)
	case HourMinSec:
		s := int(math.Round(atS))
		return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
	case TimeOfDay:
		return now.Format("15:04:05")
	case TimeOfDayMin:
		return now.Format("15:04")
	case ISOZulu:
		return now.Format("2006-01-02T15:04:05Z")
	case ISOSpace:
		return now.Format("2006-01-02 15:04:05")
	}
	return d.number(atS, d.ClockDec)
}

func (d *Dialect) cell(p *Probe, s Sample) string {
	if s.Open {
		return p.OpenText
	}
	return d.temperature(s.C)
}

// temperature writes a temperature in °C in the log's unit, rounded to the display step.
func (d *Dialect) temperature(celsius float64) string {
	v := celsius
	switch d.Unit {
	case DegF:
		v = celsius*1.8 + 32
	case DegK:
		v = celsius + 273.15
	}
	step := d.StepUnits
	if step == 0 {
		step = 0.1
	}
	return d.number(math.Round(v/step)*step, d.Decimals)
}

// StepK is the display step in kelvin.
func (d *Dialect) StepK() float64 {
	step := d.StepUnits
	if step == 0 {
		step = 0.1
	}
	if d.Unit == DegF {
		return step / 1.8
	}
	return step
}

func (d *Dialect) number(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	if d.Comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// latin1 encodes text whose characters all lie below U+0100; anything else is a mistake in the plant's list.
func latin1(s string) []byte {
	var b []byte
	for _, r := range s {
		if r > 0xff {
			panic(fmt.Sprintf("generate: %q is not in Latin-1", r))
		}
		b = append(b, byte(r))
	}
	return b
}
