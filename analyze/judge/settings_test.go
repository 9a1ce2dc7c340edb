package judge

import (
	"math"
	"strings"
	"testing"
)

func TestSettingsRefused(t *testing.T) {
	for _, tc := range []struct {
		name string
		s    Settings
		want []string // all must stand in the message
	}{
		{"kind", Settings{Kind: "wheel"}, []string{"--kind", "wheel", "bearing, ring, gear, coupling, sleeve"}},
		{"max temp NaN", Settings{MaxTempC: num(math.NaN())}, []string{"--max-temp-c", "not a number"}},
		{"max temp infinite", Settings{MaxTempC: num(math.Inf(1))}, []string{"--max-temp-c", "not a number"}},
		{"max temp below absolute zero", Settings{MaxTempC: num(-300)}, []string{"--max-temp-c", "-273.15"}},
		{"max temp in another unit", Settings{MaxTempC: num(1e5)}, []string{"--max-temp-c", "above 1000"}},
		{"need NaN", Settings{NeedTempC: num(math.NaN())}, []string{"--need-temp-c", "not a number"}},
		{"set-point", Settings{SetPointC: num(math.Inf(-1))}, []string{"--set-point-c"}},
		{"ring diff zero", Settings{MaxRingDiffK: num(0)}, []string{"--max-ring-diff-k", "above 0"}},
		{"ring diff negative", Settings{MaxRingDiffK: num(-5)}, []string{"--max-ring-diff-k"}},
		{"clearance", Settings{ClearanceDiffK: num(-1)}, []string{"--clearance-diff-k"}},
		{"tolerance zero", Settings{ProbeToleranceK: num(0)}, []string{"--probe-tolerance-k", "above 0"}},
		{"over time negative", Settings{OverTimeAllowedS: num(-1)}, []string{"--over-time-allowed-s", "negative"}},
		{"ceiling negative", Settings{OverTimeAllowedS: num(1), OverCeilingK: num(-1)}, []string{"--over-ceiling-k", "negative"}},
		{"ceiling alone", Settings{OverCeilingK: num(3)}, []string{"--over-ceiling-k", "--over-time-allowed-s"}},
		{"mounted before the log", Settings{NeedTempC: num(90), MountedAtS: num(-1)}, []string{"--mounted-at", "negative"}},
		{"mounted without a need", Settings{MountedAtS: num(10)}, []string{"--mounted-at", "--need-temp-c"}},
		{"guard negative", Settings{GuardFactor: num(-1)}, []string{"--guard-factor", "negative"}},
		{"guard under simple", Settings{GuardFactor: num(1), Rule: Simple}, []string{"--guard-factor", "--rule simple"}},
		{"rule", Settings{Rule: "lenient"}, []string{"--rule", "lenient", "strict, three-zone or simple"}},
		{"need's uncertainty alone", Settings{NeedTempU: 2}, []string{"--need-temp-c"}},
		{"need's uncertainty negative", Settings{NeedTempC: num(90), NeedTempU: -2}, []string{"0 K or more"}},
		{"need's uncertainty NaN", Settings{NeedTempC: num(90), NeedTempU: math.NaN()}, []string{"0 K or more"}},
		{"class and tolerance", Settings{ProbeClass: "K1", ProbeToleranceK: num(1)}, []string{"--probe-tolerance-k", "--probe-class"}},
		{"unknown class", Settings{ProbeClass: "Z9"}, []string{"--probe-class", "Z9", "K1", "IEC 60751"}},
		{"class not stated at the limit", Settings{ProbeClass: "K3"}, []string{"--probe-class", "-200 to 40 °C", "120"}},
		{"evenness of one body", Settings{Kind: Gear, MaxRingDiffK: num(30)}, []string{"--max-ring-diff-k", "gear is one body"}},
		{"clearance of one body", Settings{Kind: Sleeve, ClearanceDiffK: num(30)}, []string{"--clearance-diff-k", "sleeve"}},
		{"ring class", Settings{RingClass: "s9"}, []string{"s9", "bearing", "sealed", "'+'"}},
		{"ring class of a joined name", Settings{RingClass: "s1+wooden"}, []string{"wooden"}},
		{"field unit", Settings{Magnetism: &Magnetism{Value: 1, Unit: "furlong"}}, []string{"furlong", "A/cm"}},
		{"field NaN", Settings{Magnetism: &Magnetism{Value: math.NaN()}}, []string{"not a number"}},
		{"field limit", Settings{Magnetism: &Magnetism{LimitAcm: num(0)}}, []string{"above 0 A/cm"}},
	} {
		t.Run(tc.name, func(t *testing.T) {
			err := tc.s.Check()
			if err == nil {
				t.Fatal("was taken")
			}
			for _, w := range tc.want {
				if !strings.Contains(err.Error(), w) {
					t.Errorf("%q does not name %q", err, w)
				}
			}
			if strings.ContainsAny(err.Error()[:1], "ABCDEFGHIJKLMNOPQRSTUVWXYZ") || strings.HasSuffix(err.Error(), ".") {
				t.Errorf("%q: messages are lower case without a full stop", err)
			}
		})
	}
}

func TestSettingsTaken(t *testing.T) {
	for name, s := range map[string]Settings{
		"zero":                 {},
		"joined classes":       {RingClass: "S1 + sealed"},
		"need above the limit": {NeedTempC: num(130)}, // judged, with a note
		"limit without row":    {Kind: Gear, MaxTempC: num(140), Limits: &LimitsTable{Name: "own"}},
		"pt100":                {ProbeClass: "Pt100 class A"},
		"zero allowance":       {OverTimeAllowedS: num(0)},
	} {
		if err := s.Check(); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestProbeClassNames(t *testing.T) {
	for text, want := range map[string]string{
		"K2": "K2", "k2": "K2", "K class 2": "K2", "type K class 2": "K2", "Type K, class 2": "K2", "IEC 60584-1 type J class 1": "J1",
		"thermocouple T cl. 1": "T1", "A": "A", "Pt100 A": "A", "class AA": "AA", "PT1000-B": "B", "IEC 60751 class C": "C",
	} {
		got, err := ParseProbeClass(text)
		if err != nil || got.Name != want {
			t.Errorf("%q: %v, %v, want %s", text, got.Name, err, want)
		}
	}
	for _, text := range []string{"", "K", "K4", "2", "class", "AAA"} {
		if got, err := ParseProbeClass(text); err == nil {
			t.Errorf("%q was taken as %s", text, got.Name)
		}
	}
}

// TestAssumptionsAreSaid: what was not given is never filled in silently.
func TestAssumptionsAreSaid(t *testing.T) {
	j := Judge(defaultBench().build(), Settings{NeedTempC: num(80), OverTimeAllowedS: num(10)})
	all := strings.Join(j.Assumed, "\n")
	for i := range j.Findings {
		all += "\n" + strings.Join(j.Findings[i].Assumed, "\n")
	}
	for _, w := range []string{"no kind was given", "limit 120 °C", "common practice", "probe tolerance ±2.5 K: IEC 60584-1 type K class 2, the widest class in common use",
		"limit 35 K between the rings", "taken as exact"} {
		if !strings.Contains(all, w) {
			t.Errorf("%q is not said in:\n%s", w, all)
		}
	}
	// And nothing is said to be assumed that was given.
	j = Judge(defaultBench().build(), Settings{Kind: Bearing, MaxTempC: num(110), MaxRingDiffK: num(20), ProbeToleranceK: num(1)})
	if len(j.Assumed) > 0 {
		t.Errorf("assumed although all was given: %q", j.Assumed)
	}
	for _, f := range j.Findings {
		if len(f.Assumed) > 0 {
			t.Errorf("%s: assumed although all was given: %q", f.Check, f.Assumed)
		}
	}
}
