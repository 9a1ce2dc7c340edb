package heading

import "ringheat/analyze/quantity"

// FactKind is what a preamble line states.
type FactKind uint8

// The facts a preamble can state. NoFact: the key is not known; the line is kept as it stands.
const (
	NoFact         FactKind = iota
	StartTime               // start of the record: date and time, or a time of day
	StartDate               // start of the record: a date
	EndTime                 // end of the record, date or time
	Interval                // Fact.IntervalS
	SerialText              // serial number of logger or probe
	UnitText                // Fact.Unit, when it could be read
	ChannelText             // name of channel Fact.Channel is Fact.Value
	CountFact               // number of readings, Fact.Count
	ZoneFact                // Fact.ZoneS
	DateFormat              // Fact.DateOrder
	DecimalMark             // Fact.Value is the mark
	ExportTime              // when the file was written: not the record's start
	TitleText               // title, name, part, order, site
	PersonText              // operator and other persons
	DeviceText              // model, firmware, software
	StatisticsFact          // a minimum, maximum, average over the record
	AlarmFact               // alarm limits
)

// Fact is what a preamble line states, typed.
type Fact struct {
	Kind      FactKind
	Value     string                   // the value, trimmed
	IntervalS float64                  // Interval: s; 0 when the value could not be read
	Unit      quantity.TemperatureUnit // UnitText, and ChannelText when its value names one
	Channel   int                      // ChannelText, UnitText: 1-based channel, 0 when none is named
	Count     int                      // CountFact; 0 when the value could not be read
	ZoneS     int                      // ZoneFact: seconds east of UTC
	ZoneKnown bool
	DateOrder string  // DateFormat: "dmy", "mdy", "ymd"
	Meaning   Meaning // of Value, for ChannelText
}

// ReadFact says what a preamble line states. key and value are the two sides of the line.
func ReadFact(key, value string) Fact { return Fact{Value: value} }

// SplitKeyValue splits a preamble line that is one text into key and value, at the first colon, equals
// sign or tab that is no part of a clock time or a path. ok is false when the line has no such place or no key.
func SplitKeyValue(line string) (key, value string, ok bool) { return "", "", false }

// Duration reads a length of time as preambles write it: "5", "5 s", "0.5 sec", "10 min", "00:00:05", "1 h",
// "10 Hz" (its period). A bare figure takes unitS seconds; unitS 0 makes a bare figure unreadable.
func Duration(text string, unitS float64) (seconds float64, ok bool) { return 0, false }
