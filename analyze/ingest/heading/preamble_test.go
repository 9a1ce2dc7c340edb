package heading

import (
	"math"
	"testing"

	"ringheat/analyze/quantity"
	"ringheat/analyze/series"
)

// All expectations of this file: common practice, no source.

func TestReadFact(t *testing.T) {
	for _, c := range []struct {
		key, value string
		kind       FactKind
	}{
		{"Start time", "2026-03-04 06:10:00", StartTime},
		{"Start", "06:10:00", StartTime},
		{"Started", "04/03/2026 06:10", StartTime},
		{"Start date", "04.03.2026", StartDate},
		{"Startzeit", "06:10", StartTime},
		{"Beginn", "04.03.2026 06:10", StartTime},
		{"Startdatum", "04.03.2026", StartTime},
		{"Date de début", "04/03/2026", StartDate},
		{"Heure de début", "06:10", StartTime},
		{"Début", "04/03/2026 06:10", StartTime},
		{"Inizio", "04/03/2026 06:10", StartTime},
		{"Data inizio", "04/03/2026", StartDate},
		{"Inicio", "04/03/2026 06:10", StartTime},
		{"Fecha de inicio", "04/03/2026", StartDate},
		{"Begintijd", "06:10", StartTime},
		{"Starttid", "06:10", StartTime},
		{"Czas rozpoczęcia", "06:10", StartTime},
		{"Data Starts", "00:00 21/Nov/2026", StartTime},
		{"Logging started", "2026-03-04", StartTime},
		{"End time", "07:10", EndTime},
		{"Data Ends", "04:30", EndTime},
		{"Ende", "07:10", EndTime},
		{"Fin", "07:10", EndTime},
		{"Fine", "07:10", EndTime},
		{"Date", "2026-03-04", StartDate},
		{"Datum", "04.03.2026", StartDate},
		{"Time", "06:10", StartTime},
		{"Fecha", "04/03/2026", StartDate},
		{"Date/Time", "2026-03-04 06:10", StartTime},
		{"Interval", "5 s", Interval},
		{"Sample interval (s)", "5", Interval},
		{"Sampling rate", "10 Hz", Interval},
		{"Logging interval", "00:00:05", Interval},
		{"Messintervall", "1 s", Interval},
		{"Abtastrate", "2 s", Interval},
		{"Intervalle", "5 s", Interval},
		{"Période d'échantillonnage", "5 s", Interval},
		{"Intervallo di campionamento", "5 s", Interval},
		{"Intervalo de muestreo", "5 s", Interval},
		{"Meetinterval", "5 s", Interval},
		{"Mätintervall", "5 s", Interval},
		{"Okres próbkowania", "5 s", Interval},
		{"Serial number", "00417", SerialText},
		{"Serial No", "00417", SerialText},
		{"S/N", "00417", SerialText},
		{"SN", "00417", SerialText},
		{"Seriennummer", "00417", SerialText},
		{"N° de série", "00417", SerialText},
		{"Matricola", "00417", SerialText},
		{"Número de serie", "00417", SerialText},
		{"Serienummer", "00417", SerialText},
		{"Units", "°C", UnitText},
		{"Unit", "F", UnitText},
		{"Einheit", "K", UnitText},
		{"Unité", "°C", UnitText},
		{"Temperature unit", "Fahrenheit", UnitText},
		{"Temperature", "°C", UnitText},
		{"Channel 1", "Inner ring", ChannelText},
		{"CH2", "Outer ring [°C]", ChannelText},
		{"Kanal 1", "Innenring", ChannelText},
		{"Voie 1", "bague intérieure", ChannelText},
		{"Probe 2", "outer", ChannelText},
		{"T1", "Bore", ChannelText},
		{"Channel 1", "°C", UnitText},
		{"No. of Readings", "120", CountFact},
		{"Number of samples", "120", CountFact},
		{"Anzahl Messwerte Zähler", "120", CountFact},
		{"Time zone", "UTC+01:00", ZoneFact},
		{"Timezone", "+01:00", ZoneFact},
		{"Zeitzone", "UTC+1", ZoneFact},
		{"Date format", "dd/mm/yyyy", DateFormat},
		{"Datumsformat", "TT.MM.JJJJ", DateFormat},
		{"Decimal separator", "comma", DecimalMark},
		{"Exported", "2026-03-09 11:00", ExportTime},
		{"Export date", "2026-03-09", ExportTime},
		{"Report created", "2026-03-09", ExportTime},
		{"Operator", "shift B", PersonText},
		{"Model", "PL-2", DeviceText},
		{"Firmware", "1.11", DeviceText},
		{"Logger", "PL-2", DeviceText},
		{"Title", "press line 2", TitleText},
		{"Part", "BRG-118", TitleText},
		{"Auftrag", "4711", TitleText},
		{"Max temp", "121.3", StatisticsFact},
		{"Average", "80.2", StatisticsFact},
		{"High alarm", "120", AlarmFact},
		{"Grenzwert", "120", AlarmFact},
		{"Sensor", "Thermistor/RH", NoFact},
		{"Colour", "grey", NoFact},
		{"", "", NoFact},
	} {
		if f := ReadFact(c.key, c.value); f.Kind != c.kind {
			t.Errorf("ReadFact(%q, %q) kind %d, want %d", c.key, c.value, f.Kind, c.kind)
		}
	}
}

func TestFactValues(t *testing.T) {
	for _, c := range []struct {
		key, value string
		seconds    float64
	}{
		{"Interval", "5 s", 5}, {"Interval", "00:00:05", 5}, {"Interval (s)", "5", 5}, {"Interval [ms]", "500", 0.5}, {"Sample interval sec", "2,5", 2.5},
		{"Interval", "every 10 seconds", 10}, {"Intervall", "alle 10 Sekunden", 10}, {"Interval", "1 min", 60}, {"Interval", "1 min 30 s", 90}, {"Sampling rate", "10 Hz", 0.1},
		{"Sampling rate (Hz)", "4", 0.25}, {"Sample rate", "1 kHz", 0.001}, {"Interval", "5", 0}, {"Interval", "often", 0}, {"Interval", "0 s", 0}, {"Interval", "-5 s", 0},
		{"Interval", "1 h", 3600}, {"Messintervall", "0,5 s", 0.5}, {"Interval", "every minute", 60}, {"Interval", "5 °C", 0},
	} {
		f := ReadFact(c.key, c.value)
		if f.Kind != Interval || math.Abs(f.IntervalS-c.seconds) > 1e-12*c.seconds {
			t.Errorf("ReadFact(%q, %q): kind %d, %g s; want %g s", c.key, c.value, f.Kind, f.IntervalS, c.seconds)
		}
	}
	if f := ReadFact("Units", "Fahrenheit"); f.Unit != quantity.DegreeFahrenheit {
		t.Errorf("units Fahrenheit: %q", f.Unit)
	}
	if f := ReadFact("Units", "Temperature: °C"); f.Unit != quantity.DegreeCelsius {
		t.Errorf("units with words: %q", f.Unit)
	}
	if f := ReadFact("CH2", "Außenring [K]"); f.Channel != 2 || f.Unit != quantity.KelvinUnit || f.Meaning.Role != series.Outer {
		t.Errorf("channel 2: %+v", f)
	}
	if f := ReadFact("No. of readings", "120"); f.Count != 120 {
		t.Errorf("count: %d", f.Count)
	}
	if f := ReadFact("Time zone", "+01:00"); !f.ZoneKnown || f.ZoneS != 3600 {
		t.Errorf("zone +01:00: %+v", f)
	}
	if f := ReadFact("Start time (UTC-4)", "06:10"); !f.ZoneKnown || f.ZoneS != -4*3600 {
		t.Errorf("zone in the key: %+v", f)
	}
	if f := ReadFact("Start", "2026-03-04 06:10 GMT+2"); !f.ZoneKnown || f.ZoneS != 7200 {
		t.Errorf("zone in the value: %+v", f)
	}
	if f := ReadFact("Datumsformat", "TT.MM.JJJJ"); f.DateOrder != "dmy" {
		t.Errorf("date format: %q", f.DateOrder)
	}
	if f := ReadFact("Dezimaltrennzeichen", "Komma"); f.Kind != DecimalMark || f.Value != "," {
		t.Errorf("decimal mark: %+v", f)
	}
}

func TestSplitKeyValue(t *testing.T) {
	for _, c := range []struct {
		line, key, value string
		ok               bool
	}{
		{"Start time: 06:10:00", "Start time", "06:10:00", true},
		{"# interval = 5 s", "interval", "5 s", true},
		{"Serial\t417", "Serial", "417", true},
		{`"Part: BRG-118"`, "Part", "BRG-118", true},
		{"; note: a: b", "note", "a: b", true},
		{"06:10:00", "", "", false},
		{"06:10:00 start: x", "06:10:00 start", "x", true},
		{`C:\logs\a.csv`, "", "", false},
		{"no mark here", "", "", false},
		{": x", "", "", false},
		{"12: x", "", "", false},
		{"", "", "", false},
		{"Key:", "Key", "", true},
	} {
		key, value, ok := SplitKeyValue(c.line)
		if ok != c.ok || ok && (key != c.key || value != c.value) {
			t.Errorf("SplitKeyValue(%q) = %q, %q, %v; want %q, %q, %v", c.line, key, value, ok, c.key, c.value, c.ok)
		}
	}
}
