package ingest

import (
	"bytes"
	"errors"
	"testing"
)

// FuzzRead holds for any bytes: no panic, an *Error or a log whose lines add up, and a Scanner that agrees.
func FuzzRead(f *testing.F) {
	for _, s := range []string{
		smallLog,
		"\ufeffZeit;Innenring °C;Außenring °C\r\n10:00:00;20,5;20,4\r\n10:00:01;20,7;20,4\r\n10:00:02;20,9;20,5\r\n",
		"a\tb\n1\t2\n",
		"\"t\",\"x\"\r\"1\",\"2\"\r\"3\",\"4\"",
		"Start: 1.2.2024 10:00\nInterval: 5 s\n\nNo;T1;T2\n1;20,1;20,2\n2;20,2;---\n3;OL;20,4\n",
		"sep=;\n01.02.2024 23:59:58;20,1\n01.02.2024 23:59:59;20,2\n02.02.2024;20,3\n",
		"time probe value\n0 inner 20.1\n0 outer 20.0\n1 inner 20.4\n1 outer 20.2\n",
		"\xff\xfet\x00,\x00x\x00\n\x001\x00,\x002\x00\n\x003\x00,\x004\x00\n\x00",
		"\x00\x00\x00",
		"x\r\r\n\n1,2,3\n,,\n4,5,6,7\n",
		"[Inner ring]\nt,T\n0,20.0\n1,20.5\n2,21.0\n[Outer ring]\nt,T\n0,20.0\n1,20.2\n2,20.4\n",
		"00\nt,T\n,0\n,0\n0,0\n0000A00A\nt,T\n0000",
		"Time\tA\tB\n\ts\tC\tC\n1\t20,1\t20,2\n2\t20,3\t20,2\n",
	} {
		f.Add([]byte(s))
	}
	var reader Reader
	f.Fuzz(func(t *testing.T, in []byte) {
		res, err := reader.Read("fuzz", bytes.NewReader(in), Options{})
		var e *Error
		if err != nil {
			if !errors.As(err, &e) || e.Message == "" {
				t.Fatalf("error %v is no *Error with a message", err)
			}
		} else {
			_, tx := readLines(t, bytes.NewReader(in), "")
			checkAccount(t, res, countLines(string(decodedText(tx))))
		}
		s := NewScanner("fuzz", bytes.NewReader(in), Options{})
		rows := 0
		for s.Scan() {
			rows += len(s.Block().TimeS)
		}
		if (s.Err() == nil) != (err == nil) {
			t.Fatalf("reader says %v, scanner %v", err, s.Err())
		}
		if err == nil && res.Reading.Layout == "blocks" {
			return // only the reader can put blocks side by side
		}
		if err == nil && rows != res.Log.Len() {
			t.Fatalf("reader has %d rows, scanner %d", res.Log.Len(), rows)
		}
		if err == nil {
			a, b := res.Log, s.Result().Log
			if a.Rows.Total != b.Rows.Total || a.Rows.Problems != b.Rows.Problems {
				t.Fatalf("reader %+v, scanner %+v", a.Rows, b.Rows)
			}
			for i := range a.Channels {
				x := &a.Channels[i]
				found := false
				for k := range b.Channels {
					y := &b.Channels[k]
					found = found || x.Column == y.Column && x.Name == y.Name && x.Role == y.Role && x.Valid == y.Valid
				}
				if !found {
					t.Fatalf("channel %+v of the reader is none of the scanner's %+v", x, b.Channels)
				}
			}
		}
	})
}

// decodedText gives the text of a file that fits the window.
func decodedText(tx *text) []byte { return tx.buf[tx.first:] }
