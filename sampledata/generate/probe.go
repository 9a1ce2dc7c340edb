package generate

import (
	"math"
	"math/rand/v2"
)

// Probe is one temperature probe with its logger channel.
type Probe struct {
	LagS        float64 // time constant of the contact, s
	OffsetK     float64 // shown minus true, K: inside its tolerance class
	NoiseK      float64 // standard deviation of a sample, K
	SpikeChance float64 // chance that a sample is hit by the heater's field while the heater is on
	SpikeMinK   float64 // smallest and largest size of a hit, K
	SpikeMaxK   float64
	Open        []Span // stretches in which the circuit is open
	OpenText    string // what the logger writes then
}

// Span is a stretch of a log, s since its first row.
type Span struct{ FromS, ToS float64 }

func (p *Probe) openAt(atS float64) bool {
	for _, s := range p.Open {
		if atS >= s.FromS && atS < s.ToS {
			return true
		}
	}
	return false
}

// Sample is what the logger took from one probe at one row.
type Sample struct {
	C     float64 // °C, noise and spike in, display step not yet
	Open  bool
	Spike bool
}

// look samples the noise-free trace shown every intervalS seconds. The heater's field hits only while power is on.
func (p *Probe) look(rng *noise, shown, power []float64, intervalS float64) []Sample {
	every := int(math.Round(intervalS / StepS))
	var out []Sample
	again := 0.0
	for i := 0; i < len(shown); i += every {
		s := Sample{C: shown[i] + p.NoiseK*rng.normal(), Open: p.openAt(float64(i) * StepS)}
		chance, size, side, twice := rng.uniform(), rng.uniform(), rng.uniform(), rng.uniform()
		switch {
		case again != 0:
			s.C, s.Spike, again = s.C+again, true, 0
		case p.SpikeChance > 0 && power[i] > 0.05*maxOf(power) && chance < p.SpikeChance:
			hit := p.SpikeMinK + (p.SpikeMaxK-p.SpikeMinK)*size
			if side < 0.35 {
				hit = -hit
			}
			s.C, s.Spike = s.C+hit, true
			if twice < 0.2 {
				again = 0.6 * hit
			}
		}
		out = append(out, s)
	}
	return out
}

func maxOf(v []float64) float64 {
	m := math.Inf(-1)
	for _, x := range v {
		m = max(m, x)
	}
	return m
}

// noise is a seeded source whose numbers depend on nothing but its seed.
type noise struct{ src *rand.PCG }

func newNoise(seed uint64) *noise { return &noise{rand.NewPCG(seed, 0x51a7_0e5a_11)} }

// uniform gives a number in [0, 1) from the upper 53 bits.
func (n *noise) uniform() float64 { return float64(n.src.Uint64()>>11) / (1 << 53) }

// normal gives a standard normal number (Box and Muller, cosine half).
func (n *noise) normal() float64 {
	u, v := 1-n.uniform(), n.uniform()
	return math.Sqrt(-2*math.Log(u)) * math.Cos(2*math.Pi*v)
}
