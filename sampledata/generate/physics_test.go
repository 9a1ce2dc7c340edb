package generate

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, tolerance float64, source string) {
	t.Helper()
	if math.IsNaN(got) || math.Abs(got-want) > tolerance {
		t.Errorf("%s: %v, want %v within %v (%s)", what, got, want, tolerance, source)
	}
}

// withoutLag is a probe fast enough to show the metal itself, for tests of the body alone.
func session(airC float64, stages ...Stage) *Session {
	return &Session{AirC: airC, Inner: Probe{LagS: 4}, Outer: Probe{LagS: 4}, Stages: stages}
}

func TestSpecificHeat(t *testing.T) {
	for _, c := range []struct{ celsius, want float64 }{{20, 439.80176}, {100, 487.62}, {120, 497.26016}, {200, 529.76}} {
		near(t, "specific heat", SteelSpecificHeat(c.celsius), c.want, 1e-9, "EN 1993-1-2:2005, 3.4.1.2 (1), formula evaluated")
	}
}

func TestOneBodyIsFirstOrder(t *testing.T) {
	b := &Body{Inner: Ring{5, 1, 2}, SpecificHeat: ConstantSpecificHeat(480)}
	tr := Integrate(session(20, Stage{LengthS: 3000, Body: b, StartC: 20, Heating: Heating{PowerW: 300, ForS: 3000}}))
	tau := 5 * 480 / 2.0
	for _, at := range []float64{60, 600, 1200, 2400} {
		want := 20 + 300/2.0*(1-math.Exp(-at/tau))
		near(t, "bore", tr.InnerMetal[int(math.Round(at/StepS))], want, 1e-9, "lumped body: Ta + P/h (1 - exp(-t h/C))")
	}
	near(t, "share of the rise after one time constant", (tr.InnerMetal[12000]-20)/150, 0.6321205588, 1e-9, "1 - 1/e")
	if m := Misfit(tr.InnerMetal); m > 1e-6 {
		t.Errorf("a first-order rise is %v K away from first order", m)
	}
}

func TestProbeLagsOnARamp(t *testing.T) {
	b := &Body{Inner: Ring{1, 1, 0}, SpecificHeat: ConstantSpecificHeat(500)}
	s := session(20, Stage{LengthS: 100, Body: b, StartC: 20, Heating: Heating{PowerW: 100, ForS: 100}})
	tr := Integrate(s)
	for _, at := range []float64{4, 8, 80} {
		i := int(math.Round(at / StepS))
		want := 0.2 * 4 * (1 - math.Exp(-at/4))
		near(t, "lag", tr.InnerMetal[i]-tr.InnerShown[i], want, 1e-6, "ramp response of a first-order sensor: r tau (1 - exp(-t/tau))")
	}
}

func TestRingDifferencePlateau(t *testing.T) {
	const c, g = 480.0, 5.0
	b := &Body{Inner: Ring{2, 0.7, 0}, Outer: Ring{3, 0.3, 0}, CouplingWPerK: g, SpecificHeat: ConstantSpecificHeat(c)}
	tr := Integrate(session(20, Stage{LengthS: 2500, Body: b, StartC: 20, Heating: Heating{PowerW: 400, ForS: 1500}}))
	ci, co := 2*c, 3*c
	te := ci * co / (g * (ci + co))
	plateau := te * (0.7*400/ci - 0.3*400/co)
	diff := func(at float64) float64 {
		i := int(math.Round(at / StepS))
		return tr.InnerMetal[i] - tr.OuterMetal[i]
	}
	const source = "two-ring equations without losses, solved for the difference"
	near(t, "difference at 100 s", diff(100), plateau*(1-math.Exp(-100/te)), 1e-7, source)
	near(t, "difference on the plateau", diff(1500), plateau*(1-math.Exp(-1500/te)), 1e-7, source)
	near(t, "difference 200 s after switch-off", diff(1700), diff(1500)*math.Exp(-200/te), 1e-6, source)
}

func TestEnergyBalance(t *testing.T) {
	const c = 470.0
	b := &Body{Inner: Ring{2, 0.6, 0.8}, Outer: Ring{3, 0.4, 1.1}, CouplingWPerK: 5, SpecificHeat: ConstantSpecificHeat(c)}
	tr := Integrate(session(20, Stage{LengthS: 1500, Body: b, StartC: 20,
		Heating: Heating{Mode: OnOff, PowerW: 400, ForS: 1000, SetPointC: 80, BandK: 2, LagS: 5}}))
	var in, lost float64 // trapezoidal sums, J
	n := len(tr.Air) - 1
	for i := range n {
		mean := func(v []float64) float64 { return (v[i] + v[i+1]) / 2 }
		in += mean(tr.PowerW) * StepS
		lost += (0.8*(mean(tr.InnerMetal)-20) + 1.1*(mean(tr.OuterMetal)-20)) * StepS
	}
	stored := 2*c*(tr.InnerMetal[n]-20) + 3*c*(tr.OuterMetal[n]-20)
	near(t, "heat in = stored + lost", stored+lost, in, 1e-4*in, "conservation of energy")
	if in < 50000 {
		t.Errorf("only %v J went in, so this test looked at nothing", in)
	}
}

func TestControllers(t *testing.T) {
	run := func(h Heating) *Trace {
		h.PowerW, h.LagS = 400, 5
		return Integrate(session(20, Stage{LengthS: 3000, Body: qm310(), StartC: 20, Heating: h}))
	}
	held := run(Heating{Mode: OnOff, ForS: 2000, SetPointC: 100, BandK: 2})
	low, high := math.Inf(1), math.Inf(-1)
	for i := 8000; i < 19900; i++ {
		low, high = min(low, held.InnerShown[i]), max(high, held.InnerShown[i])
	}
	if low < 96 || high > 103 || high-low < 2 {
		t.Errorf("on/off hold at 100 °C with 2 K hysteresis swings from %.2f to %.2f °C", low, high)
	}
	droop := run(Heating{Mode: Proportional, ForS: 2900, SetPointC: 100, BandK: 10})
	last := droop.InnerMetal[28900]
	near(t, "proportional hold: power = P (SP - T)/band", droop.PowerW[28900], 400*(100-last)/10, 0.5, "definition of a proportional band")
	if last >= 100 || last < 90 {
		t.Errorf("a proportional controller settled at %.2f °C, outside its band", last)
	}
	cut := run(Heating{Mode: UntilReached, ForS: 2000, SetPointC: 80})
	for i, c := range cut.InnerShown {
		if c >= 80 {
			if cut.PowerW[i+300] > 2 {
				t.Errorf("%.1f W 30 s after the set-point was reached", cut.PowerW[i+300])
			}
			break
		}
	}
	stepped := run(Heating{Mode: Timed, ForS: 600, Steps: []Step{{200, 0}, {300, 0.5}}})
	for _, c := range []struct{ atS, want float64 }{{190, 400}, {290, 0}, {590, 200}, {700, 0}} {
		near(t, "stepped power", stepped.PowerW[int(c.atS/StepS)], c.want, 1e-2, "the steps asked for")
	}
}

func TestMisfitSeesAPowerStep(t *testing.T) {
	var y []float64
	for i := range 500 {
		x := float64(i)
		y = append(y, 20+0.2*x-0.1*max(0, x-250))
	}
	near(t, "kinked rise", Misfit(y), 2.480, 0.002, "computed with a plain search over k in another language: 2.4797")
	if m := Misfit([]float64{1, 2}); m != 0 {
		t.Errorf("two points are said to be %v away from a curve of three parameters", m)
	}
}
