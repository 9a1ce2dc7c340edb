// Package heading says what the text of a column heading means: which part of the warmed workpiece a
// probe sits on, which quantity and unit the column holds, whether a column that carries a temperature
// unit is no probe at all (set point, dew point, uncertainty, difference, processor temperature, ...),
// and what a line of a preamble states.
//
// It reads words only. It sees no values, so it never decides a column alone: package ingest weighs its
// Meaning, which names the words it rests on, against the cells below. A heading that says nothing gives
// the zero Meaning; nothing is guessed.
//
// The vocabulary covers English, German, French, Italian, Spanish, Dutch, Swedish, Polish and Portuguese,
// in full and in usual abbreviations. Case, accents, ae/oe/ue spellings, underscores, camelCase, brackets
// and glued digits make no difference. Names of rings follow the bearing vocabulary of ISO 5593 where it
// has a word; abbreviations are common practice, no source.
package heading

import (
	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// Quantity is what a column holds, as far as its heading says.
type Quantity uint8

// The quantities a heading can name. NoQuantity: it names none.
const (
	NoQuantity Quantity = iota
	Temperature
	Time  // a clock, a date, elapsed time, or one part of them; see Meaning.Time
	Index // a row, sample or scan number
	Voltage
	Current
	Power
	Energy
	Resistance
	Frequency
	Humidity
	Pressure
	Light
	Mass
	Length
	Speed
	Flow
	Force
	Magnetism
	Concentration
	Percent // a bare percentage: duty, output, valve opening
	Battery
	Status // a state, quality or alarm word beside a reading
	Name   // the name of a channel, probe, part or logger, in a column of its own
	Value  // a reading whose quantity another column or the name names (one row a reading)
	Unit   // a column that holds units
	Text   // remarks, operator, event
	Other  // a quantity that is none of these
)

// TimeKind is which kind of time a heading hints at.
type TimeKind uint8

// The kinds of time. AnyTime: it is a time, but the heading doesn't say which kind ("Time", "Zeit").
const (
	NoTime TimeKind = iota
	AnyTime
	Elapsed
	TimeOfDay
	Date
	DateTime
	UnixTime  // seconds, or the fraction that Meaning.TimeUnitS names, since 1970
	SerialDay // days of a spreadsheet's or astronomer's count
	YearPart
	MonthPart
	DayPart
	HourPart
	MinutePart
	SecondPart
	ZonePart
	AMPMPart
)

// Statistic says that a column holds a summary of a probe's readings and not the readings.
type Statistic uint8

// The statistics a heading can name.
const (
	NoStatistic Statistic = iota
	Minimum
	Average
	Maximum
	StandardDeviation
	Range // largest minus smallest
)

// NotProbeKind groups the columns that carry a temperature unit and are no probe.
type NotProbeKind uint8

// The kinds of column that are no probe; MayBeProbe is the zero value.
const (
	MayBeProbe NotProbeKind = iota
	SetPointColumn
	DewPointColumn // also wet-bulb, heat index, wind chill, apparent temperature
	UncertaintyColumn
	DifferenceColumn // also rates, slopes, gradients and deviations
	StatisticColumn  // min, max, average, standard deviation; a probe's own readings may stand beside
	InternalColumn   // processor, board, logger case, cold junction, battery
	AlarmColumn      // alarm and other limits
	OffsetColumn     // calibration offset, correction, span
	VoltageColumn    // a probe's voltage that was not converted: no temperature, though Role may say where it was taken
	ComputedColumn   // simulated, predicted or otherwise calculated values
)

// Place says where a unit was found.
type Place uint8

// The places a unit can stand in.
const (
	NoPlace Place = iota
	InHeading
	InUnitRow
)

// Meaning is what a heading says. The zero Meaning says nothing.
type Meaning struct {
	Role      series.Role
	RoleWords string // the words that name the role, as the heading writes them, e.g. "Inner Ring"

	Quantity Quantity

	Unit      quantity.TemperatureUnit
	UnitScale float64 // what one of the column's figures is worth in Unit: 1, or 0.001 for "m°C", 0.1 for "1/10 °C"; 0 without Unit
	UnitWeak  bool    // the unit is a letter that could be something else ("Ch1 (K)": kelvin, or a thermocouple's type)
	UnitText  string  // the unit as it stands in the heading or unit row, also of other quantities
	UnitPlace Place

	Time      TimeKind
	TimeUnitS float64 // seconds in one unit of the column, 0 when not named
	DateOrder string  // "dmy", "mdy", "ymd" when the heading spells the format out, else ""
	ZoneKnown bool    // the heading names a zone ("UTC", "GMT-04:00")
	ZoneS     int     // seconds east of UTC

	Statistic Statistic
	NotProbe  NotProbeKind
	Reason    string // why the column is no probe, in plain words; "" when it may be one

	Elsewhere string // another body that the heading names ("oil", "heater"): a temperature, but not of the warmed part

	Stem   string // folded words without unit, statistic and quantity words: equal for the min, avg and max column of one probe
	Number int    // the probe's or channel's number in the heading ("T2", "Probe 2"), -1 without

	Confidence float64 // 0..1: how far the words alone carry the role or, without one, the quantity; see Sure
	Evidence   string  // one plain sentence naming the words, "" when the heading says nothing

	internal bool      // the word "internal" stands without a ring: inner, or the logger's own
	extreme  Statistic // "high" or "low": a summary if the readings themselves stand beside
	actual   bool      // the measured value as opposed to a set point ("PV")
	outside  bool      // "outside" or its like names the role: the weather's as well
	short    string    // the heading when it is one word of at most four letters, folded
	known    bool      // some word stands in the vocabulary, if only "channel"
}

// Sure is the Confidence from which a role may be taken from a heading without asking. Read also gives
// roles below it ("IR", "outside", "AE"), which count only beside their counterpart in the same log: Settle
// raises those and takes the others away.
const Sure = 0.6

// IsProbe says whether the column may be a probe by its heading: nothing speaks against it, and the
// heading names a role, a temperature or a temperature unit. A false answer with MayBeProbe and
// NoQuantity means that the heading says nothing ("Ch1", "T1" without unit).
func (m *Meaning) IsProbe() bool {
	return m.NotProbe == MayBeProbe && m.Quantity == Temperature
}
