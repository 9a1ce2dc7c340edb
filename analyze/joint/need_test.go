package joint

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ringheat/analyze/quantity"
)

func mustNeed(t *testing.T, s Seat) Need {
	t.Helper()
	n, err := FindNeed(s)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestNeedWorkedExamples are joints whose answer stands outside this program.
func TestNeedWorkedExamples(t *testing.T) {
	steel := GivenMaterial(12e-6, true)
	for _, c := range []struct {
		name      string
		seat      Seat
		want      float64
		tolerance float64
		easeUM    float64
		source    string
	}{
		{"100 mm seat, 30 µm, hardened ring", Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 20, Part: steel}, 57.5, 1e-9, 15,
			"common practice, no source: half the interference as ease"},
		{"100 mm seat, 30 µm, hub", Seat{DiameterMM: 100, Interference: GivenInterference(30), Form: Hub, ShaftC: 20, Part: steel}, 128.333333, 1e-5, 100,
			"common practice, no source: d/1000 as ease"},
		{"40p4 in 40H6, 7 µm addition, 10e-6/K", Seat{DiameterMM: 40, EaseUM: um(7), ShaftC: 20, Part: GivenMaterial(10e-6, true)}, 120, 1e-9, 7,
			"published exercise: 33 µm + 7 µm on 40 mm at 10e-6/K is a rise of 100 K"},
	} {
		if c.seat.Interference.MaxUM == 0 {
			i, err := FindInterference(40, SizeSpec{Class: "p4"}, SizeSpec{Class: "H6"}, steel, steel)
			if err != nil {
				t.Fatal(err)
			}
			near(t, "40p4/H6", i.MaxUM, 33, 0, c.source)
			near(t, "40p4/H6 smallest", i.MinUM, 26-16, 0, "p4 +33/+26, H6 +16/0")
			c.seat.Interference = i
		}
		n := mustNeed(t, c.seat)
		near(t, c.name, float64(n.NeededC), c.want, c.tolerance, c.source)
		near(t, c.name+", ease", n.EaseUM, c.easeUM, 1e-12, c.source)
	}
}

func TestSlipsOnAt120(t *testing.T) {
	// Common practice, no source: a 100 mm bore on a seat 30 µm over size can't be pushed on cold and slips on at 120 °C.
	s := Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 20, LimitC: celsius(120)}
	n := mustNeed(t, s)
	if n.Feasibility != Possible || n.NeededC <= 20 || n.NeededC >= 120 {
		t.Errorf("%v at %v °C", n.Feasibility, n.NeededC)
	}
	near(t, "margin", float64(*n.MarginK), 62.5, 1e-9, "120 - 57.5")
	for _, d := range []float64{30, 60, 100, 150, 200} {
		i, err := FindInterference(d, SizeSpec{Class: "k5"}, SizeSpec{Class: NormalBore}, Material{}, Material{})
		if err != nil {
			t.Fatal(err)
		}
		n := mustNeed(t, Seat{DiameterMM: d, Interference: i, ShaftC: 20, LimitC: celsius(121)})
		if n.NeededC > 121 {
			t.Errorf("a k5 seat of %v mm needs %v °C, above the usual range of 93 to 121 °C (MIL-HDBK-1164 table 17)", d, n.NeededC)
		}
	}
}

func TestNeedUncertainty(t *testing.T) {
	rel := 0.05 / math.Sqrt(3)
	steel := GivenMaterial(12e-6, true)
	n := mustNeed(t, Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 40, Part: steel})
	near(t, "one steel: warm shaft shifts the need by as much", float64(n.NeededC), 77.5, 1e-9, "N = 20 + [I + e + alpha d (Ts - 20)]/(alpha d)")
	near(t, "one steel: only the rise over the shaft is unsure", n.StdK, 37.5*rel, 1e-9, "u = (I + e)/(alpha d) u(alpha)/alpha")

	other := GivenMaterial(12e-6, true)
	other.Name = "another steel"
	n = mustNeed(t, Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 40, Part: steel, Shaft: other})
	near(t, "two steels", n.StdK, math.Hypot(57.5*rel, 20*rel), 1e-9, "independent coefficients")

	i := GivenInterference(30)
	i.StdUM = 4
	n = mustNeed(t, Seat{DiameterMM: 100, Interference: i, ShaftC: 20, ShaftStdK: 3, Part: steel})
	near(t, "shaft and sizes", n.StdK, math.Sqrt(math.Pow(37.5*rel, 2)+9+math.Pow(4/1.2, 2)), 1e-9, "1 K a K of shaft; 4 µm over 1.2 µm/K")
	if len(n.Budget) != 3 {
		t.Errorf("budget %+v", n.Budget)
	}
	near(t, "lowest set-point", float64(n.LowestC), 57.5+2*n.StdK, 1e-9, "needed + 2 u")

	// Monte Carlo of the whole chain agrees with the first-order propagation.
	hub := CarbonSteelHub()
	s := Seat{DiameterMM: 120, Interference: GivenInterference(59), Form: Hub, ShaftC: 35, Part: hub, Shaft: steel}
	n = mustNeed(t, s)
	var sum, squares float64
	const draws = 20000
	state := uint64(7)
	uniform := func() float64 { // plain 64-bit linear congruential numbers: enough for a spread
		state = state*6364136223846793005 + 1442695040888963407
		return float64(state>>11)/(1<<53)*2 - 1
	}
	for range draws {
		partFactor, shaftFactor := 1+0.05*uniform(), 1+0.05*uniform()
		strain := (59.0+120)/120000 + 12e-6*15*shaftFactor
		c, _, err := hub.temperature(strain / partFactor)
		if err != nil {
			t.Fatal(err)
		}
		sum += float64(c)
		squares += float64(c) * float64(c)
	}
	mean := sum / draws
	sd := math.Sqrt(squares/draws - mean*mean)
	near(t, "hub, spread", n.StdK, sd, 0.03*sd, "Monte Carlo, 20000 draws")
	near(t, "hub, value", float64(n.NeededC), mean, 0.3, "Monte Carlo, 20000 draws")
}

func TestEurocodeHub(t *testing.T) {
	// EN 1993-1-2: 1.256e-3 at 120 °C. A 100 mm hub with 25.6 µm interference and 100 µm ease needs just that.
	s := Seat{DiameterMM: 100, Interference: GivenInterference(25.6), Form: Hub, ShaftC: 20, Part: CarbonSteelHub()}
	n := mustNeed(t, s)
	near(t, "hub", float64(n.NeededC), 120, 1e-6, "EN 1993-1-2:2005 3.4.1.1: elongation 1.256e-3 at 120 °C")
	s.Form = Ring
	_, err := FindNeed(s)
	refused(t, "formula for a hardened ring", err, "not for hardened rings")
}

func TestDifferentMaterials(t *testing.T) {
	alu, err := FindMaterial("aluminium")
	if err != nil {
		t.Fatal(err)
	}
	steel := GivenMaterial(12e-6, true)
	n := mustNeed(t, Seat{DiameterMM: 50, Interference: GivenInterference(20), EaseUM: um(10), Form: Hub, ShaftC: 30, Part: alu, Shaft: steel})
	near(t, "aluminium hub, steel shaft", float64(n.NeededC), 20+(20+10+12e-6*50e3*10)/(23.6e-6*50e3), 1e-9, "N = 20 + [I + e + alpha_s d (Ts - 20)]/(alpha_b d)")
}

func TestNotByWarming(t *testing.T) {
	i, err := FindInterference(80, SizeSpec{Class: "s6"}, SizeSpec{Class: NormalBore}, Material{}, Material{})
	if err != nil {
		t.Fatal(err)
	}
	s := Seat{DiameterMM: 80, Interference: i, ShaftC: 20, LimitC: celsius(120), GuardK: 1.5}
	n := mustNeed(t, s)
	if n.Feasibility != NotByWarming || n.SetPointC != nil || n.CoolShaftC == nil {
		t.Fatalf("%+v", n)
	}
	if !strings.Contains(n.Words, "cannot be done by warming alone within the limit") || !strings.Contains(n.Words, "cool the shaft to") || !strings.Contains(n.Words, "choose another class") {
		t.Errorf("words: %s", n.Words)
	}
	// At the shaft temperature it names the joint can be done, one degree warmer it can't.
	s.EaseUM = um(n.EaseUM)
	s.ShaftC = *n.CoolShaftC
	if at := mustNeed(t, s); at.Feasibility != Possible || at.SetPointC == nil {
		t.Errorf("with the shaft at %v °C: %v, %s", s.ShaftC, at.Feasibility, at.Words)
	}
	s.ShaftC++
	if at := mustNeed(t, s); at.Feasibility == Possible {
		t.Errorf("with the shaft at %v °C it could be done as well", s.ShaftC)
	}

	// Far too much interference for any cooling.
	n = mustNeed(t, Seat{DiameterMM: 80, Interference: GivenInterference(400), ShaftC: 20, LimitC: celsius(120)})
	if n.CoolShaftC != nil || !strings.Contains(n.Words, "does not do it either: choose another class") {
		t.Errorf("%v: %s", n.CoolShaftC, n.Words)
	}
}

func TestTooNarrow(t *testing.T) {
	s := Seat{DiameterMM: 100, Interference: GivenInterference(78), ShaftC: 20, Part: GivenMaterial(12e-6, true), LimitC: celsius(120), GuardK: 1.5}
	n := mustNeed(t, s)
	near(t, "needed", float64(n.NeededC), 117.5, 1e-9, "20 + 117/1.2")
	if n.Feasibility != TooNarrow || n.SetPointC != nil {
		t.Errorf("%v, set-point %v: %s", n.Feasibility, n.SetPointC, n.Words)
	}
}

// TestCoolALittle: the next whole degree below the shaft's own temperature is an answer too.
func TestCoolALittle(t *testing.T) {
	s := Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 20.9, Part: GivenMaterial(12e-6, true), LimitC: celsius(60)}
	n := mustNeed(t, s)
	if n.Feasibility != TooNarrow || n.CoolShaftC == nil || *n.CoolShaftC != 20 {
		t.Errorf("%v, cool to %v: 58.4 + 2.2 is over 60 °C, 57.5 + 2.2 is not", n.Feasibility, n.CoolShaftC)
	}
}

func TestSetPoint(t *testing.T) {
	s := Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 20, Part: GivenMaterial(12e-6, true), LimitC: celsius(120), GuardK: 1.5}
	n := mustNeed(t, s)
	near(t, "set-point", float64(*n.SetPointC), 65, 0, "57.5 + hypot(2.165, 1.5) = 60.13, next multiple of 5")
	s.LimitC = celsius(63)
	near(t, "set-point", float64(*mustNeed(t, s).SetPointC), 61, 0, "65 lies above 63 - 1.5, so the next whole degree")
}

func TestNoWarmingNeeded(t *testing.T) {
	n := mustNeed(t, Seat{DiameterMM: 80, Interference: Interference{MinUM: -29, MaxUM: -10}, ShaftC: 20, LimitC: celsius(120)})
	if n.Feasibility != NoWarming || n.EaseUM != 0 || n.SetPointC != nil {
		t.Errorf("%+v", n)
	}
	// So much clearance that the temperature at which it would be gone is not known: still no warming.
	n = mustNeed(t, Seat{DiameterMM: 10, Interference: GivenInterference(-90), ShaftC: 20, Part: GivenMaterial(12e-6, false)})
	if n.Feasibility != NoWarming {
		t.Errorf("%v: %s", n.Feasibility, n.Words)
	}
	// A warm shaft makes a cold part need warming though the need lies below the shaft's temperature.
	n = mustNeed(t, Seat{DiameterMM: 80, Interference: Interference{MinUM: -29, MaxUM: -10}, ShaftC: 80, LimitC: celsius(120)})
	if n.Feasibility != Possible || n.NeededC >= 80 || n.NeededC < 60 {
		t.Errorf("%v at %v °C", n.Feasibility, n.NeededC)
	}
}

func TestAmbient(t *testing.T) {
	s := Seat{DiameterMM: 100, Interference: GivenInterference(30), Part: GivenMaterial(12e-6, true), LimitC: celsius(120)}
	rows, err := OverAmbient(s, []quantity.Celsius{-20, 0, 20, 40})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{17.5, 37.5, 57.5, 77.5} {
		near(t, "needed", float64(rows[i].NeededC), want, 1e-9, "one steel: the need follows the shaft")
		near(t, "rise", float64(rows[i].RiseK), 37.5, 1e-9, "one steel: the rise is the same in the cold")
	}
	g, err := FindGrid(s, []quantity.Celsius{0, 20}, []float64{10, 20, 30})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "grid", float64(g.NeededC[1][2]), 57.5, 1e-9, "as the single answer")
	near(t, "grid", float64(g.NeededC[0][0]), 12.5, 1e-9, "15 µm over 1.2 µm/K from 0 °C")
}

func TestSeatsRefused(t *testing.T) {
	good := Seat{DiameterMM: 100, Interference: GivenInterference(30), ShaftC: 20}
	for _, c := range []struct {
		what   string
		change func(*Seat)
		want   string
	}{
		{"no diameter", func(s *Seat) { s.DiameterMM = 0 }, "positive number of mm"},
		{"no number", func(s *Seat) { s.Interference.MaxUM = math.NaN() }, "no number"},
		{"upside down", func(s *Seat) { s.Interference.MinUM = 40 }, "lies above the largest"},
		{"mm for µm", func(s *Seat) { s.Interference = GivenInterference(30000) }, "check the units"},
		{"negative ease", func(s *Seat) { s.EaseUM = um(-5) }, "ease"},
		{"infinite uncertainty", func(s *Seat) { s.ShaftStdK = math.Inf(1) }, "uncertainties"},
		{"bad coefficient", func(s *Seat) { s.Part = GivenMaterial(12, true) }, "between 1e-6 and 50e-6"},
		{"bad shaft", func(s *Seat) { s.Shaft = GivenMaterial(12, true) }, "between 1e-6 and 50e-6"},
		{"cold shaft of unknown metal", func(s *Seat) { s.ShaftC, s.Part = -50, GivenMaterial(12e-6, false) }, "below -20 °C"},
		{"shaft without number", func(s *Seat) { s.ShaftC = quantity.Celsius(math.NaN()) }, "no number"},
		{"limit without number", func(s *Seat) { s.LimitC = celsius(math.Inf(1)) }, "limit"},
		{"part without number", func(s *Seat) { s.PartC = celsius(math.NaN()) }, "part's temperature"},
		{"negative size uncertainty", func(s *Seat) { s.Interference.StdUM = -1 }, "uncertainty of the interference"},
	} {
		s := good
		c.change(&s)
		_, err := FindNeed(s)
		refused(t, c.what, err, c.want)
	}
}

// TestNeedProperties: the needed temperature rises with interference, ease and shaft temperature, falls with bore and coefficient;
// and what is called possible has a set-point that is warm enough and below the limit by the uncertainties.
func TestNeedProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := Seat{
			DiameterMM:   rapid.Float64Range(10, 800).Draw(t, "bore"),
			Form:         Form(rapid.IntRange(0, 1).Draw(t, "form")),
			ShaftC:       quantity.Celsius(rapid.Float64Range(-190, 100).Draw(t, "shaft")),
			GuardK:       rapid.Float64Range(0, 4).Draw(t, "guard"),
			LimitC:       celsius(rapid.Float64Range(60, 350).Draw(t, "limit")),
			Interference: GivenInterference(0),
		}
		s.Interference = GivenInterference(rapid.Float64Range(0, 1).Draw(t, "interference per mm") * s.DiameterMM)
		alpha := rapid.Float64Range(9e-6, 20e-6).Draw(t, "alpha")
		s.Part = GivenMaterial(alpha, true)
		if s.Form == Hub && rapid.Bool().Draw(t, "formula") {
			s.Part, s.Shaft = CarbonSteelHub(), GivenMaterial(alpha, true)
		}
		n, err := FindNeed(s)
		if err != nil {
			t.Fatal(err)
		}
		more := func(what string, sign float64, change func(*Seat)) {
			c := s
			c.EaseUM = um(n.EaseUM)
			change(&c)
			m, err := FindNeed(c)
			if err != nil {
				t.Fatal(err)
			}
			if sign*float64(m.NeededC-n.NeededC) < -1e-9 {
				t.Fatalf("%s: from %v to %v °C", what, n.NeededC, m.NeededC)
			}
		}
		more("more interference", 1, func(c *Seat) { c.Interference = GivenInterference(s.Interference.MaxUM + 5) })
		more("more ease", 1, func(c *Seat) { *c.EaseUM += 5 })
		more("warmer shaft", 1, func(c *Seat) { c.ShaftC += 3 })
		more("larger bore", -1, func(c *Seat) { c.DiameterMM *= 1.1 })
		if s.Part.Law == Linear && s.ShaftC >= 20 {
			// The shaft keeps its own coefficient, so that only the part's changes.
			more("larger coefficient", -1, func(c *Seat) { c.Shaft = s.Part; c.Part.AlphaPerK *= 1.1 })
		}
		if n.NeededC < *s.LimitC && n.Feasibility == NotByWarming {
			t.Fatalf("%v °C needed, limit %v °C, called impossible", n.NeededC, *s.LimitC)
		}
		if n.Feasibility == Possible {
			if n.SetPointC == nil {
				t.Fatalf("possible without a set-point between %v and %v °C", n.LowestC, *n.HighestC)
			}
			if *n.SetPointC < n.LowestC-1e-6 || *n.SetPointC > *n.HighestC {
				t.Fatalf("set-point %v outside %v to %v °C", *n.SetPointC, n.LowestC, *n.HighestC)
			}
		} else if n.SetPointC != nil {
			t.Fatalf("%v with set-point %v", n.Feasibility, *n.SetPointC)
		}
		if n.StdK < 0 || n.LowestC < n.NeededC || len(n.Notes) == 0 || n.Words == "" {
			t.Fatalf("%+v", n)
		}
	})
}
