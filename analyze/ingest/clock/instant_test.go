package clock

import (
	"testing"
	"time"
)

func TestParseInstant(t *testing.T) {
	for _, c := range []struct {
		text  string
		order Order
		want  string // RFC 3339; "" is no answer
		zone  bool
	}{
		{"2024-05-13 08:36:00", AnyOrder, "2024-05-13T08:36:00Z", false},
		{"2024-05-13T08:36:00+02:00", AnyOrder, "2024-05-13T08:36:00+02:00", true},
		{"13.05.2024 08:36", AnyOrder, "2024-05-13T08:36:00Z", false},
		{"03.05.2024 08:36", AnyOrder, "2024-05-03T08:36:00Z", false},
		{"13 May 2024", AnyOrder, "2024-05-13T00:00:00Z", false},
		{"13/05/2024 8:36:00 PM", AnyOrder, "2024-05-13T20:36:00Z", false},
		{"03/04/2024 08:36", AnyOrder, "", false},
		{"03/04/2024 08:36", MDY, "2024-03-04T08:36:00Z", false},
		{"03/04/2024 08:36", DMY, "2024-04-03T08:36:00Z", false},
		{"05/05/2024 08:36", AnyOrder, "2024-05-05T08:36:00Z", false},
		{"20240513T083600Z", AnyOrder, "2024-05-13T08:36:00Z", true},
		{"08:36", AnyOrder, "", false},
		{"31/02/2024", AnyOrder, "", false},
		{"inner ring", AnyOrder, "", false},
		{"", AnyOrder, "", false},
		{"12345", AnyOrder, "", false},
	} {
		got, zone, ok := ParseInstant(c.text, c.order)
		text := ""
		if ok {
			text = got.Format(time.RFC3339)
		}
		if text != c.want || ok && zone != c.zone {
			t.Errorf("ParseInstant(%q, %q) = %q, %v; want %q, %v", c.text, c.order, text, zone, c.want, c.zone)
		}
	}
}

func TestParseInterval(t *testing.T) {
	for _, c := range []struct {
		text, unit string
		want       float64
		ok         bool
	}{
		{"5 s", "", 5, true},
		{"5s", "", 5, true},
		{"10", "", 10, true},
		{"10", "min", 600, true},
		{"0,5", "[s]", 0.5, true},
		{"500 ms", "", 0.5, true},
		{"00:00:05", "", 5, true},
		{"0:10", "", 600, true},
		{"1 min", "", 60, true},
		{"1 min 30 sec", "", 90, true},
		{"2 Sekunden", "", 2, true},
		{"1.5 h", "", 5400, true},
		{"0", "", 0, false},
		{"-5", "", 0, false},
		{"5", "bananas", 0, false},
		{"5 °C", "", 0, false},
		{"13.05.2024", "", 0, false},
		{"", "", 0, false},
	} {
		got, ok := ParseInterval(c.text, c.unit)
		if ok != c.ok || ok && got != c.want {
			t.Errorf("ParseInterval(%q, %q) = %v, %v; want %v, %v", c.text, c.unit, got, ok, c.want, c.ok)
		}
	}
}
