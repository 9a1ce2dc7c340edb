package ingest

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"ringheat/analyze/series"
)

const savedLog = "zeit;Innen (°C);Außen (°C)\n0;21,5;21,4\n1;22,5;21,9\n2;23,6;22,4\n3;24,8;23,1\n4;26,0;23,9\n"

func TestSavedReadingSuitsTheSameLogger(t *testing.T) {
	first, err := Read("a.csv", strings.NewReader(savedLog), Options{})
	if err != nil {
		t.Fatal(err)
	}
	saved := Save(first)
	var b bytes.Buffer
	if err := saved.WriteCSV(&b); err != nil {
		t.Fatal(err)
	}
	loaded, err := LoadSaved(&b, "reading.csv")
	if err != nil {
		t.Fatal(err)
	}
	if !reflect.DeepEqual(saved, loaded) {
		t.Errorf("written and read again:\n%+v\n%+v", saved, loaded)
	}
	var r Reader
	again, err := r.ReadSaved("b.csv", strings.NewReader(strings.ReplaceAll(savedLog, "26,0", "26,3")), Options{}, &loaded)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range again.Log.Channels {
		if c.Role != series.NoRole && c.RoleSource != series.BySavedReading {
			t.Errorf("role of %s by %v", c.Name, c.RoleSource)
		}
	}
	for what, other := range map[string]string{
		"another heading": strings.Replace(savedLog, "Innen", "Bohrung", 1),
		"swapped columns": "zeit;Außen (°C);Innen (°C)\n" + strings.SplitN(savedLog, "\n", 2)[1],
		"another unit":    strings.ReplaceAll(savedLog, "°C", "°F"),
		"another mark":    strings.ReplaceAll(savedLog, ";", "\t"),
	} {
		if _, err := r.ReadSaved("c.csv", strings.NewReader(other), Options{}, &loaded); err == nil || !strings.Contains(err.Error(), "saved") {
			t.Errorf("%s: %v", what, err)
		}
	}
}

func TestLoadSavedRefuses(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"", "is no saved reading"},
		{"time,inner\n0,20\n", "reading.csv:1"},
		{"item,column,value,heading,unit\nringheat_reading,,9,,\n", "reading.csv:2: column 3"},
		{"item,column,value,heading,unit\nringheat_reading,,1,,\nsurprise,,,,\n", "reading.csv:3: column 1"},
		{"item,column,value,heading,unit\nringheat_reading,,1,,\nchannel,x,inner,,C\n", "reading.csv:3: column 2"},
		{"item,column,value,heading,unit\nringheat_reading,,1,,\nclock,0,elapsed,,\n", "reading.csv:3: column 2"},
	} {
		if _, err := LoadSaved(strings.NewReader(c.text), "reading.csv"); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.text, err, c.want)
		}
	}
}
