package judge

import (
	"fmt"
	"math"
	"strings"
)

// ProbeClass is a tolerance class of a temperature sensor: the tolerance is the greater of AbsK and
// RelPerC |t| for thermocouples, their sum for resistance thermometers.
type ProbeClass struct {
	Name        string // "K2", "A"
	Words       string // in words, with the standard
	AbsK        float64
	RelPerC     float64
	Sum         bool // resistance thermometer: AbsK + RelPerC |t|
	LowC, HighC float64
}

// Tolerances of IEC 60584-1:2013 (thermocouples), table of tolerance classes: three published copies
// agree; and of IEC 60751:2008 and 2022 (resistance thermometers): five published copies of the
// formulas agree, ranges are those of wire-wound elements. The standards' own text was not read.
var probeClasses = []ProbeClass{
	{"K1", "IEC 60584-1 type K class 1", 1.5, 0.004, false, -40, 1000},
	{"K2", "IEC 60584-1 type K class 2", 2.5, 0.0075, false, -40, 1200},
	{"K3", "IEC 60584-1 type K class 3", 2.5, 0.015, false, -200, 40},
	{"J1", "IEC 60584-1 type J class 1", 1.5, 0.004, false, -40, 750},
	{"J2", "IEC 60584-1 type J class 2", 2.5, 0.0075, false, -40, 750},
	{"T1", "IEC 60584-1 type T class 1", 0.5, 0.004, false, -40, 350},
	{"T2", "IEC 60584-1 type T class 2", 1.0, 0.0075, false, -40, 350},
	{"T3", "IEC 60584-1 type T class 3", 1.0, 0.015, false, -200, 40},
	{"N1", "IEC 60584-1 type N class 1", 1.5, 0.004, false, -40, 1000},
	{"N2", "IEC 60584-1 type N class 2", 2.5, 0.0075, false, -40, 1200},
	{"N3", "IEC 60584-1 type N class 3", 2.5, 0.015, false, -200, 40},
	{"E1", "IEC 60584-1 type E class 1", 1.5, 0.004, false, -40, 800},
	{"E2", "IEC 60584-1 type E class 2", 2.5, 0.0075, false, -40, 900},
	{"E3", "IEC 60584-1 type E class 3", 2.5, 0.015, false, -200, 40},
	{"AA", "IEC 60751 class AA", 0.1, 0.0017, true, -50, 250},
	{"A", "IEC 60751 class A", 0.15, 0.002, true, -100, 450},
	{"B", "IEC 60751 class B", 0.3, 0.005, true, -196, 600},
	{"C", "IEC 60751 class C", 0.6, 0.01, true, -196, 600},
}

// widestCommon is taken when nothing is known of the probe: no class in common use is wider.
const widestCommon = "K2"

// ParseProbeClass finds a tolerance class by name: type and class of a thermocouple ("K2", "K class 2",
// "type K class 2") or the class of a resistance thermometer ("A", "Pt100 A", "class AA").
func ParseProbeClass(text string) (ProbeClass, error) {
	if c, ok := namedClass(text); ok {
		return c, nil
	}
	t := strings.ToUpper(text)
	for _, word := range []string{"IEC 60584-1", "IEC 60751", "THERMOCOUPLE", "PT1000", "PT100", "TYPE", "CLASS", "CL.", "RTD"} {
		t = strings.ReplaceAll(t, word, " ")
	}
	t = strings.NewReplacer(" ", "", "-", "", "_", "", ",", "", ":", "", "/", "").Replace(t)
	if c, ok := namedClass(t); ok {
		return c, nil
	}
	names := make([]string, len(probeClasses))
	for i, c := range probeClasses {
		names[i] = c.Name
	}
	return ProbeClass{}, fmt.Errorf("%q is not a known tolerance class: give one of %s (type and class after IEC 60584-1, or class after IEC 60751)",
		text, strings.Join(names, ", "))
}

// namedClass finds a tolerance class by its very name.
func namedClass(name string) (ProbeClass, bool) {
	for i := range probeClasses {
		if probeClasses[i].Name == name {
			return probeClasses[i], true
		}
	}
	return ProbeClass{}, false
}

// ToleranceK is the half-width of the tolerance at a temperature in °C. Outside the class's range
// (Covers) the formula is carried on.
func (p ProbeClass) ToleranceK(c float64) float64 {
	if p.Sum {
		return p.AbsK + p.RelPerC*math.Abs(c)
	}
	return math.Max(p.AbsK, p.RelPerC*math.Abs(c))
}

// Covers says whether the class is stated at a temperature in °C.
func (p ProbeClass) Covers(c float64) bool { return c >= p.LowC && c <= p.HighC }
