package segment

import (
	"encoding/binary"
	"math"
	"testing"

	"ringheat/analyze/series"
)

// FuzzFind reads any bytes as two traces: the contract must hold and nothing may hang or panic.
func FuzzFind(f *testing.F) {
	seed := func(y ...int16) {
		var b []byte
		for i, v := range y {
			b = append(b, 10)
			b = binary.LittleEndian.AppendUint16(b, uint16(v))
			b = binary.LittleEndian.AppendUint16(b, uint16(v-int16(i)))
		}
		f.Add(b)
	}
	seed(200, 201, 200, 199, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1090, 1080, 1060, 1040, 1000, 900, 800, 700)
	seed(1100, 1100, 1100, 1000, 900, 800, 700, 600)
	seed(200, 200, 32767, 200, 200, -32768, 200, 900, 200, 900, 200)
	f.Fuzz(func(t *testing.T, b []byte) {
		log := &series.Log{Channels: make([]series.Channel, 2)}
		u := 0.0
		for ; len(b) >= 5; b = b[5:] {
			log.TimeS = append(log.TimeS, u)
			u += float64(int8(b[0])) / 10
			for c := range log.Channels {
				v := float64(int16(binary.LittleEndian.Uint16(b[1+2*c:]))) / 10
				if v == -3276.8 {
					v = math.NaN()
				}
				log.Channels[c].C = append(log.Channels[c].C, v)
			}
		}
		var s Segmenter
		if err := checkResult(log, s.Find(log, []int{0}, []int{1}, Options{})); err != nil {
			t.Error(err)
		}
	})
}
