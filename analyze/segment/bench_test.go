package segment

import (
	"math/rand/v2"
	"testing"
)

// BenchmarkFind is the cost of one log of 2200 rows and two probes with ramp, hold and cooling, noise
// 0.2 K, display 0.1 K.
func BenchmarkFind(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	p := plainPlant(r)
	p.start, p.noise = p.ambient, 0.2
	p.ratePK = 0.15
	p.gi, p.gox, p.hi, p.ho = 0.004, 0.006, 0.0002, 0.0002
	tr := p.run(r, []stage{{kind: "off", s: 40}, {kind: "to", s: 4000, level: 110}, {kind: "prop", s: 240, level: 110}, {kind: "off", s: 4000}})
	log := p.log(r, tr)
	const rows = 2200
	log.TimeS = log.TimeS[:rows]
	for i := range log.Channels {
		log.Channels[i].C = log.Channels[i].C[:rows]
		log.Channels[i].Valid = rows
	}
	var s Segmenter
	b.ReportAllocs()
	for b.Loop() {
		if res := s.Find(log, []int{0}, []int{1}, Options{}); len(res.Cycles) != 1 {
			b.Fatal(len(res.Cycles))
		}
	}
}

// BenchmarkSpikes is the cost of noise and spikes alone, for one probe of 2200 readings.
func BenchmarkSpikes(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 1))
	p := plainPlant(r)
	p.start, p.noise, p.ratePK = p.ambient, 0.2, 0.15
	log := p.log(r, p.run(r, []stage{{kind: "off", s: 40}, {kind: "to", s: 4000, level: 110}, {kind: "off", s: 4000}}))
	const rows = 2200
	log.TimeS = log.TimeS[:rows]
	log.Channels[0].C = log.Channels[0].C[:rows]
	var s Segmenter
	s.clock.read(log)
	var tr trace
	b.ReportAllocs()
	for b.Loop() {
		tr.load(log, &s.clock, 0)
		s.clean(&tr, Options{}.withDefaults())
	}
}
