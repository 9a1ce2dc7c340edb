package generate

import (
	"strings"
	"testing"
	"time"
)

func TestDialects(t *testing.T) {
	b := &Body{Inner: Ring{1, 1, 0}, SpecificHeat: ConstantSpecificHeat(500)}
	base := Log{IntervalS: 30, Start: time.Date(2026, 3, 1, 23, 59, 0, 0, time.UTC),
		Session: Session{AirC: 20, Inner: Probe{LagS: 2, OffsetK: 0.04}, Stages: []Stage{{LengthS: 90, Body: b, StartC: 20}}}}
	for _, c := range []struct {
		name string
		d    Dialect
		want string
	}{
		{"seconds", Dialect{Delimiter: ",", Decimals: 1, Columns: []Column{{"t", "", Clock}, {"x", "", InnerProbe}}},
			"t,x\n0,20.0\n30,20.0\n60,20.0\n"},
		{"unit row, decimal comma, carriage returns", Dialect{Delimiter: ";", Comma: true, CRLF: true, UnitRow: true, Decimals: 2, StepUnits: 0.01, ClockDec: 1,
			Columns: []Column{{"t", "s", Clock}, {"x", "°C", InnerProbe}}}, "t;x\r\ns;°C\r\n0,0;20,04\r\n30,0;20,04\r\n60,0;20,04\r\n"},
		{"minutes, Fahrenheit in whole degrees", Dialect{Delimiter: "\t", Clock: Minutes, Unit: DegF, StepUnits: 1,
			Columns: []Column{{"t", "", Clock}, {"x", "", InnerProbe}}}, "t\tx\n0.000\t68\n0.500\t68\n1.000\t68\n"},
		{"kelvin past midnight", Dialect{Delimiter: ",", Clock: TimeOfDay, Unit: DegK, Decimals: 1,
			Columns: []Column{{"d", "", DateOnly}, {"t", "", Clock}, {"x", "", InnerProbe}}},
			"d,t,x\n2026-03-01,23:59:00,293.2\n2026-03-01,23:59:30,293.2\n2026-03-02,00:00:00,293.2\n"},
		{"half degrees, preamble, footer, quotes", Dialect{Delimiter: ",", Clock: ISOZulu, StepUnits: 0.5, Decimals: 1, Quoted: true,
			Preamble: []string{"a"}, Footer: []string{"z"}, Columns: []Column{{"t", "", Clock}, {"x", "", InnerProbe}}},
			"a\n\"t\",\"x\"\n2026-03-01T23:59:00Z,20.0\n2026-03-01T23:59:30Z,20.0\n2026-03-02T00:00:00Z,20.0\nz\n"},
		{"hours", Dialect{Delimiter: ",", Clock: HourMinSec, Decimals: 1, BOM: true, Columns: []Column{{"t", "", Clock}}},
			"\ufefft\n0:00:00\n0:00:30\n0:01:00\n"},
		{"Latin-1", Dialect{Delimiter: ",", Clock: ISOSpace, Latin1: true, Columns: []Column{{"°", "", Clock}}},
			"\xb0\n2026-03-01 23:59:00\n2026-03-01 23:59:30\n2026-03-02 00:00:00\n"},
	} {
		l := base
		l.Dialect = c.d
		if got := string(Make(&l).Bytes); got != c.want {
			t.Errorf("%s:\n%q, want\n%q", c.name, got, c.want)
		}
	}
}

func TestOpenProbeAndEarlyStop(t *testing.T) {
	b := &Body{Inner: Ring{1, 1, 0}, SpecificHeat: ConstantSpecificHeat(500)}
	l := Log{IntervalS: 10, StopAtS: 40,
		Session: Session{AirC: 20, Inner: Probe{LagS: 2, Open: []Span{{10, 30}}, OpenText: "OL"}, Stages: []Stage{{LengthS: 90, Body: b, StartC: 20}}},
		Dialect: Dialect{Delimiter: ",", Decimals: 1, Columns: []Column{{"t", "", Clock}, {"x", "", InnerProbe}}}}
	if got, want := string(Make(&l).Bytes), "t,x\n0,20.0\n10,OL\n20,OL\n30,20.0\n"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func TestSpikesOnlyWhileHeating(t *testing.T) {
	b := &Body{Inner: Ring{1, 1, 0}, SpecificHeat: ConstantSpecificHeat(500)}
	l := Log{IntervalS: 1, Seed: 3,
		Session: Session{AirC: 20, Inner: Probe{LagS: 2, SpikeChance: 0.2, SpikeMinK: 5, SpikeMaxK: 10},
			Stages: []Stage{{LengthS: 600, Body: b, StartC: 20, Heating: Heating{PowerW: 1, OnAtS: 200, ForS: 200}}}},
		Dialect: Dialect{Delimiter: ",", Decimals: 1, Columns: []Column{{"t", "", Clock}, {"x", "", InnerProbe}}}}
	m := Make(&l)
	if m.Spikes < 20 || m.Spikes > 100 {
		t.Errorf("%d spikes in 200 samples at a chance of 0.2", m.Spikes)
	}
	for i, line := range strings.Split(strings.TrimSpace(string(m.Bytes)), "\n")[1:] {
		if (i < 200 || i > 402) && !strings.HasSuffix(line, ",20.0") && !strings.HasSuffix(line, ",20.4") {
			t.Errorf("row %d has a spike while the heater was off: %s", i, line)
		}
	}
}
