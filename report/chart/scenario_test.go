package chart

import (
	"bytes"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ringheat/analyze/judge"
	"ringheat/analyze/series"
)

var pictures = flag.String("pictures", "", "folder to write the scenarios' pictures to, for looking at them")

// heat integrates two coupled rings (the equations of the trade's two-body model) with steady power until
// offS, and gives n noisy readings at equal intervals over spanS, shown to 0.1 K.
type heat struct {
	spanS, offS, onS float64
	n                int
	startC           float64
	innerKPerS       float64 // power over heat capacity, inner ring
	outerKPerS       float64
	couplingPerS     float64
	lossPerS         float64
	noiseK           float64
	seed             uint64
}

func (h heat) run() (t, inner, outer []float64) {
	rng := rand.New(rand.NewPCG(h.seed, 7))
	ti, to := h.startC, h.startC
	const sub = 40
	dt := h.spanS / float64(h.n-1)
	for i := range h.n {
		now := float64(i) * dt
		t = append(t, now)
		inner = append(inner, math.Round((ti+h.noiseK*rng.NormFloat64())*10)/10)
		outer = append(outer, math.Round((to+h.noiseK*rng.NormFloat64())*10)/10)
		for k := range sub {
			pi, po := 0.0, 0.0
			if at := now + dt*float64(k)/sub; at >= h.onS && at < h.offS {
				pi, po = h.innerKPerS, h.outerKPerS
			}
			g := h.couplingPerS * (ti - to)
			ti += (pi - g - h.lossPerS*(ti-h.startC)) * dt / sub
			to += (po + g*0.7 - h.lossPerS*(to-h.startC)) * dt / sub
		}
	}
	return t, inner, outer
}

// curve lays a first-order curve through three points of the rise, 5 %, 50 % and 95 % of its way.
func (h heat) curve(role series.Role, t, v []float64, words string) Curve {
	c := Curve{Role: role, FromS: h.onS + (h.offS-h.onS)/20, ToS: h.offS}
	near := func(at float64) float64 {
		sum, n := 0.0, 0.0
		for i := range t {
			if math.Abs(t[i]-at) <= h.spanS/60 {
				sum, n = sum+v[i], n+1
			}
		}
		return sum / n
	}
	half := (c.ToS - c.FromS) * 0.47
	c.T0S = c.FromS + (c.ToS-c.FromS)*0.03
	a, m, b := near(c.T0S), near(c.T0S+half), near(c.T0S+2*half)
	c.StartC, c.DecayPerS = a, math.Log((m-a)/(b-m))/half
	c.RateKPerS = (m - a) * c.DecayPerS / (1 - math.Exp(-c.DecayPerS*half))
	tau := 1 / c.DecayPerS
	c.Text = fmt.Sprintf(words, a, c.RateKPerS*60, tau, tau*0.8, tau*1.3)
	return c
}

// cycle builds the chart of a run the way a report does.
func (h heat) cycle(limit, need, diffLimit float64) CycleChart {
	t, in, out := h.run()
	d := make([]float64, len(t))
	for i := range d {
		d[i] = in[i] - out[i]
	}
	c := CycleChart{
		Title:     []string{"press-04/2026-03-11-spindle-bearing.csv, cycle 1 of 1", "spindle bearing, bore 100 mm, support S-60, started 2026-03-11 07:42:10"},
		TimeLabel: "time since the log's first row",
		Traces: []Trace{
			{Name: "inner ring", Role: series.Inner, TimeS: t, C: in},
			{Name: "outer ring", Role: series.Outer, TimeS: t, C: out},
		},
		Curves: []Curve{
			h.curve(series.Inner, t, in, "inner curve: start %.1f °C, %.2f K/min, time constant %.0f s (95 %% %.0f to %.0f s)"),
			h.curve(series.Outer, t, out, "outer curve: start %.1f °C, %.2f K/min, time constant %.0f s (95 %% %.0f to %.0f s)"),
		},
		Levels: []Level{
			{Kind: ToleranceLimit, C: limit, Label: fmt.Sprintf("limit %.0f °C", limit)},
			{Kind: AcceptanceLimit, C: limit - 2.6, Label: fmt.Sprintf("pass to %.1f °C", limit-2.6)},
			{Kind: NeededTemp, C: need, Label: fmt.Sprintf("needed %.1f °C", need)},
		},
		Moments: []Moment{{h.onS, "onset"}, {h.offS, "end of heating"}},
		Diff:    &Diff{Label: "inner − outer, K", TimeS: t, K: d, LimitK: diffLimit, LimitLabel: fmt.Sprintf("limit %.0f K", diffLimit)},
		Footer: []string{
			"Hot parts burn; strong magnetic field: keep implants, watches, cards and tools away; lifting and pinching; mains power; no open flame. " +
				"The makers' instructions, local codes and licensed practice come first; this program advises and releases no work.",
			"ringheat 0.1.0 · log SHA-256 9f2c41d07a5be1f0c3d2…",
		},
	}
	return c
}

type scenario struct {
	name  string
	chart CycleChart
}

func scenarios() []scenario {
	base := heat{spanS: 660, offS: 420, onS: 24, n: 661, startC: 21.3, innerKPerS: 0.262, outerKPerS: 0.215, couplingPerS: 0.02, lossPerS: 0.0004, noiseK: 0.1, seed: 1}
	var out []scenario
	add := func(name string, c CycleChart) { out = append(out, scenario{name, c}) }

	pass := base.cycle(120, 92.4, 20)
	pass.Verdict = judge.Pass
	pass.Scope = "for heat, evenness and seat"
	pass.Reasons = []string{"Peak 110.8 °C (inner ring) stays 9.2 K below the limit of 120 °C; uncertainty 2.6 K.",
		"Largest difference 6.4 K at 6.9 min, limit 20 K. The needed 92.4 °C was reached at the peak; not shown at mounting."}
	add("pass-10min", pass)

	h := base
	h.innerKPerS, h.seed = 0.41, 2
	over := h.cycle(120, 92.4, 20)
	over.Verdict = judge.Fail
	over.Reasons = []string{"The inner ring passed the limit of 120 °C: peak 135.2 °C, 96 s above it (allowed 0 s). Proven: 15.2 K over, uncertainty 2.6 K."}
	add("fail-over", over)

	h = base
	h.innerKPerS, h.outerKPerS, h.couplingPerS, h.seed = 0.37, 0.10, 0.005, 3
	uneven := h.cycle(150, 92.4, 20)
	uneven.Verdict = judge.Fail
	uneven.Reasons = []string{"The inner ring was up to 33 K hotter than the outer ring at 7.0 min; limit 20 K, uncertainty 3.7 K. Internal clearance may have been lost."}
	add("fail-uneven", uneven)

	h = base
	h.seed = 4
	open := h.cycle(120, 92.4, 20)
	for i := 250; i < 460; i++ {
		open.Traces[1].C[i], open.Diff.K[i] = math.NaN(), math.NaN()
	}
	for i := 100; i < 600; i += 37 {
		open.Traces[0].C[i] += 60 - float64(i%5)*20
		open.Traces[0].Spikes = append(open.Traces[0].Spikes, int32(i))
		open.Diff.K[i] = math.NaN()
	}
	open.Verdict = judge.Unproven
	open.Reasons = []string{"The outer probe gave no reading from 4.2 to 7.7 min, across the peak: neither its peak nor the difference there is known.",
		"Fix the outer probe's contact and warm again, or judge the part by another record."}
	add("unproven-gap-spikes", open)

	h = heat{spanS: 30, offS: 30, onS: 2, n: 31, startC: 20.1, innerKPerS: 0.3, outerKPerS: 0.28, couplingPerS: 0.01, lossPerS: 0.0001, noiseK: 0.05, seed: 5}
	short := h.cycle(120, 96, 20)
	short.Verdict = judge.Unproven
	short.Curves = nil
	short.Reasons = []string{"The log stops after 30 s while the part was still heating: its peak is not in it."}
	short.Moments = short.Moments[:1]
	add("unproven-30s", short)

	h = heat{spanS: 36000, offS: 30000, onS: 600, n: 36001, startC: -18.2, innerKPerS: 0.016, outerKPerS: 0.0145, couplingPerS: 0.0004, lossPerS: 0.00003, noiseK: 0.3, seed: 6}
	long := h.cycle(380, 300, 60)
	long.Verdict = judge.Pass
	long.Reasons = []string{"Peak 296 °C stays below the limit of 380 °C."}
	long.Moments = []Moment{{600, "onset"}, {29000, "end of ramp"}, {30000, "end of heating"}}
	add("pass-10h", long)

	one := base.cycle(200, 180, 20)
	one.Traces, one.Curves, one.Diff = one.Traces[:1], one.Curves[:1], nil
	one.Traces[0].Name = "bore"
	one.Verdict = judge.Fail
	one.Reasons = []string{"The bore reached 110.8 °C at most; the seat needs 180.0 °C."}
	add("fail-one-body", one)

	one.DiffNote = "No difference: the outer probe (column 4, 'Outer race') gave no reading in this cycle."
	one.Verdict = judge.Unproven
	add("unproven-no-outer", one)

	words := base.cycle(112, 110, 9)
	words.Verdict = judge.Fail
	words.Scope = "for heat and evenness; seat not asked"
	words.Title = []string{
		"Ανάγνωση θερμοκρασίας — Температура подшипника — 軸受の温度記録 — ملف القياس — Lagererwärmung für die große Presse in Halle 7, Nachtschicht, Wiederholung",
		strings.Repeat("part with a heading that never ends, ", 6),
		"third line with controls \x07\x1b[31m red \u202e reversed \u0301 mark",
	}
	words.Traces[0].Name = "Temperatur Innenring am Bohrungsrand, Fühler Nr. 1 (Typ K, 3 m Leitung), °C — 80 Zeichen und noch mehr davon"
	words.Traces[1].Name = "Наружное кольцо подшипника, датчик номер два, нижний край, показания в градусах"
	words.Reasons = []string{
		strings.Repeat("The inner ring passed the limit and the sentence goes on and on to say why that matters and what was assumed. ", 5),
		"A second reason that also is rather long and would like to be read by whoever signs the sheet, but may have no room left.",
		"A third one.",
	}
	words.Levels = append(words.Levels, Level{SetPointLevel, 111, "set point of the controller at 111.0 °C by the log's own column"},
		Level{ToleranceLimit, 400, "limit of the cage material 400 °C"}, Level{NeededTemp, -150, "cold shaft −150 °C"})
	words.Moments = []Moment{{20, "onset"}, {24, "power raised"}, {30, "power lowered again"}, {410, "end of ramp"}, {415, "hold"}, {420, "end of heating"}, {425, "mounted at 07:49:15"}}
	words.Diff.LimitLabel = "limit for evenness 9 K (custom of the trade)"
	words.Footer = append(words.Footer, words.Footer...)
	add("long-texts", words)

	h = base
	h.seed, h.offS = 9, 600
	ripple := h.cycle(112, 111.9, 9)
	for i, t := range ripple.Traces[0].TimeS {
		if t > 380 {
			ripple.Traces[0].C[i] = 111 + 4*math.Sin(t/9)
			ripple.Traces[1].C[i] = 108 + 5*math.Sin(t/9-1)
			ripple.Diff.K[i] = ripple.Traces[0].C[i] - ripple.Traces[1].C[i]
		}
	}
	ripple.Verdict = judge.Fail
	ripple.Reasons = []string{"Both rings passed the limit of 112 °C in 4 stretches, 98 s in all."}
	add("fail-ripple", ripple)

	six := base
	six.innerKPerS, six.seed = 0.30, 12
	many := six.cycle(120, 92.4, 20)
	for i := 1; i < 3; i++ {
		for k, role := range []series.Role{series.Inner, series.Outer} {
			tr := Trace{Name: fmt.Sprintf("%s probe %d", role, i+1), Role: role, TimeS: many.Traces[0].TimeS}
			for _, v := range many.Traces[k].C {
				tr.C = append(tr.C, v-float64(i*(4+k)))
			}
			many.Traces = append(many.Traces, tr)
		}
	}
	shaft := Trace{Name: "shaft", Role: series.Shaft, TimeS: many.Traces[0].TimeS}
	ambient := Trace{Name: "ambient", Role: series.Ambient, TimeS: many.Traces[0].TimeS}
	for range shaft.TimeS {
		shaft.C, ambient.C = append(shaft.C, 18), append(ambient.C, 23)
	}
	many.Traces = append(many.Traces, shaft, ambient)
	many.Verdict = judge.Pass
	many.Reasons = []string{"The hottest of three inner probes stays below the limit."}
	add("pass-many-probes", many)

	add("empty", CycleChart{})
	return out
}

// few are the scenarios that tests which draw many pixels look at: all, or some in a hurry.
func few() []scenario {
	all := scenarios()
	if testing.Short() || raceEnabled {
		return all[1:4]
	}
	return all
}

// needOf builds the chart of a seat: needed = 20 + (I + ease + alpha d (shaft - 20)) / (alpha d), DEVELOPERS.md.
func needOf(boreMM, alpha, limit float64, interferences []float64, main int) NeedChart {
	c := NeedChart{
		Title:       []string{fmt.Sprintf("seat of %.0f mm, interference %.0f µm", boreMM, interferences[main]), "hardened ring on a steel shaft, alpha 12 µm/(m K) ± 5 %, ease half the interference"},
		AcrossLabel: "temperature of the shaft",
		Levels: []Level{{ToleranceLimit, limit, fmt.Sprintf("limit %.0f °C", limit)},
			{AcceptanceLimit, limit - 3, fmt.Sprintf("pass to %.0f °C", limit-3)}},
		Footer: []string{"Hot parts burn; strong magnetic field: keep implants, watches, cards and tools away. The makers' instructions come first.", "ringheat 0.1.0"},
	}
	for i, um := range interferences {
		l := NeedLine{Label: fmt.Sprintf("%.0f µm", um), Main: i == main}
		for shaft := -20.0; shaft <= 40; shaft += 5 {
			l.ShaftC = append(l.ShaftC, shaft)
			l.NeededC = append(l.NeededC, shaft+1.5*um/(alpha*boreMM*1000))
		}
		if l.Main {
			l.BandK = 0.06 * 1.5 * um / (alpha * boreMM * 1000)
			at := 20 + 1.5*um/(alpha*boreMM*1000)
			c.Point = &NeedPoint{20, at, fmt.Sprintf("this joint: shaft at 20 °C, bore at %.0f °C", at)}
			if c.Verdict, c.Answer = judge.Pass, fmt.Sprintf("set %.0f °C", at+4); at > limit-3 {
				c.Verdict, c.Answer = judge.Fail, "not by warming alone"
			}
			c.Reasons = []string{fmt.Sprintf("The bore needs %.1f °C on a shaft of 20 °C; the limit is %.0f °C.", at, limit)}
		}
		c.Lines = append(c.Lines, l)
	}
	return c
}

type needScenario struct {
	name  string
	chart NeedChart
}

func needScenarios() []needScenario {
	long := needOf(100, 12e-6, 120, []float64{10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22}, 6)
	long.Title[0] = strings.Repeat("вал и отверстие с натягом ", 8)
	long.Answer = "to be warmed to one hundred and sixteen degrees at least, all over"
	long.Reasons = append(long.Reasons, strings.Repeat("A reason that goes on. ", 40))
	none := needOf(60, 12e-6, 120, []float64{15}, 0)
	for i := range none.Lines[0].NeededC {
		none.Lines[0].NeededC[i] = math.NaN()
	}
	none.Point = nil
	return []needScenario{
		{"need-possible", needOf(100, 12e-6, 120, []float64{10, 20, 30, 40, 50, 60}, 3)},
		{"need-not-by-warming", needOf(100, 12e-6, 120, []float64{30, 60, 90, 120}, 2)},
		{"need-limit-far", needOf(500, 12e-6, 350, []float64{20, 30, 40}, 1)},
		{"need-close-lines", long},
		{"need-nothing", none},
		{"need-empty", NeedChart{}},
	}
}

// TestScenarioPictures draws every scenario, and writes the pictures when asked to.
func TestScenarioPictures(t *testing.T) {
	var d Drawer
	keep := func(name string, buf *bytes.Buffer) {
		t.Logf("%-20s %d bytes", name, buf.Len())
		if *pictures == "" {
			return
		}
		if err := os.WriteFile(filepath.Join(*pictures, name+".png"), buf.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, sc := range scenarios() {
		var buf bytes.Buffer
		if err := d.Cycle(&buf, sc.chart, Size{}); err != nil {
			t.Errorf("%s: %v", sc.name, err)
			continue
		}
		keep(sc.name, &buf)
	}
	for _, sc := range needScenarios() {
		var buf bytes.Buffer
		if err := d.Need(&buf, sc.chart, Size{}); err != nil {
			t.Errorf("%s: %v", sc.name, err)
			continue
		}
		keep(sc.name, &buf)
	}
}
