package generate

import (
	"time"

	"ringheat/sampledata"
)

// entry is one line of the plant's list: a log, the run sheet's row for it, and what must be found.
type entry struct {
	log     Log
	asked   Asked
	part    string
	support string
	note    string // for the run sheet
	riseWhy string
	expect  []expected // one a cycle
}

type expected struct {
	maxTemp, ringDiff, needTemp, record, verdict string
	why                                          string
}

// The bodies of the mill's parts. Masses of the rings include half of the rolling elements each; the losses
// are those of free convection and radiation, about 12 W/(m2 K), over the rings' surfaces.
func qm310() *Body {
	return &Body{Inner: Ring{1.7, 0.75, 0.45}, Outer: Ring{1.8, 0.25, 0.60}, CouplingWPerK: 4.6}
}
func qm208() *Body {
	return &Body{Inner: Ring{0.78, 0.75, 0.28}, Outer: Ring{0.82, 0.25, 0.36}, CouplingWPerK: 2.9}
}
func qm415() *Body {
	return &Body{Inner: Ring{8.4, 0.78, 1.0}, Outer: Ring{9.1, 0.22, 1.4}, CouplingWPerK: 24}
}
func qm520() *Body {
	return &Body{Inner: Ring{19.5, 0.80, 1.7}, Outer: Ring{22, 0.20, 2.3}, CouplingWPerK: 47}
}

// With a constant specific heat, one body under constant power is first-order exactly.
func qm612() *Body {
	return &Body{Inner: Ring{22, 1, 2.6}, SpecificHeat: ConstantSpecificHeat(477)}
}
func qm705() *Body { return &Body{Inner: Ring{12.4, 1, 1.5}} }
func qm118() *Body {
	return &Body{Inner: Ring{4.1, 1, 0.9}, SpecificHeat: ConstantSpecificHeat(475)}
}

// withOuterShare turns a part's heating round: the outer ring is given the larger share.
func withOuterShare(b *Body, share float64) *Body {
	b.Outer.PowerShare, b.Inner.PowerShare = share, 1-share
	return b
}

// coldGrease sets the coupling between the rings, W/K.
func coldGrease(b *Body, couplingWPerK float64) *Body {
	b.CouplingWPerK = couplingWPerK
	return b
}

// on puts a part on the heater: s until it is switched on, and the time afterwards.
func on(b *Body, startC, onAtS, lengthS float64, h Heating) Stage {
	h.OnAtS = onAtS
	if h.LagS == 0 {
		h.LagS = 5
	}
	return Stage{LengthS: lengthS, Body: b, StartC: startC, Heating: h, CoolFactor: 1.6}
}

// onBarePower is on with a heater that follows at once, with no loss of power and the same losses afterwards.
func onBarePower(b *Body, startC, onAtS, lengthS float64, h Heating) Stage {
	h.OnAtS = onAtS
	return Stage{LengthS: lengthS, Body: b, StartC: startC, Heating: h}
}

func inAir(lengthS float64) Stage { return Stage{LengthS: lengthS} }

func bearing(maxC, diffK, needC, toleranceK float64) Asked {
	return Asked{Kind: "bearing", MaxTempC: maxC, MaxRingDiffK: sampledata.Some(diffK),
		NeedTempC: sampledata.Some(needC), ProbeToleranceK: toleranceK}
}

func oneBody(kind string, maxC, needC, toleranceK float64) Asked {
	return Asked{Kind: kind, MaxTempC: maxC, NeedTempC: sampledata.Some(needC), ProbeToleranceK: toleranceK}
}

func day(month time.Month, d, hour, min, sec int) time.Time {
	return time.Date(2026, month, d, hour, min, sec, 0, time.UTC)
}

func timed(powerW, minutes float64) Heating {
	return Heating{Mode: Timed, PowerW: powerW, ForS: 60 * minutes}
}

const (
	coupled = "heat passes between the rings, the heater and the probe lag, the specific heat rises"
	held    = "heat passes between the rings, the heater and the probe lag; the controller ends the rise"
)

// plant is the mill's list of logs. Expectations are written down by hand; a test checks them against the truth.
func plant() []entry {
	pass := func(why string) expected { return expected{"pass", "pass", "pass", "pass", "pass", why} }
	return []entry{
		{
			part: "QM-310", support: "B60", note: "timer 9 min", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "01-heron-drive-end.csv", Seed: 9001, IntervalS: 2, Start: day(2, 3, 9, 12, 0),
				Session: Session{AirC: 20.6, AirDriftKPer: 0.6,
					Inner: Probe{LagS: 4, OffsetK: 0.3, NoiseK: 0.12}, Outer: Probe{LagS: 5, OffsetK: -0.2, NoiseK: 0.12},
					Stages: []Stage{on(qm310(), 20.6, 36, 1200, timed(288, 9))}},
				Dialect: Dialect{Delimiter: ",", Clock: Seconds, Decimals: 1, Columns: []Column{
					{"time_s", "", Clock}, {"inner_ring_c", "", InnerProbe}, {"outer_ring_c", "", OuterProbe}}}},
			expect: []expected{pass("both rings well below the limit, bore warm enough, rings close")},
		},
		{
			part: "QM-208", support: "B40", note: "timer left at 10 min from a larger part", riseWhy: coupled,
			asked: bearing(120, 35, 77, 1.5),
			log: Log{Name: "02-magpie-tension-roll.csv", Seed: 9002, IntervalS: 1, Start: day(2, 5, 13, 40, 5),
				Session: Session{AirC: 22.1, AirDriftKPer: -0.4,
					Inner: Probe{LagS: 3.5, OffsetK: -0.4, NoiseK: 0.10}, Outer: Probe{LagS: 3.5, OffsetK: 0.2, NoiseK: 0.10},
					Stages: []Stage{on(qm208(), 22.1, 25, 1000, timed(165, 10))}},
				Dialect: Dialect{Delimiter: ";", Comma: true, Clock: TimeOfDay, Decimals: 1, CRLF: true, BOM: true,
					Preamble: []string{"Kartonfabrik Quillmarsh;Werkstatt", "Datum;05.02.2026", "Teil;QM-208", "Messintervall;1 s", ""},
					Columns:  []Column{{"Uhrzeit", "", Clock}, {"Innenring [°C]", "", InnerProbe}, {"Außenring [°C]", "", OuterProbe}}}},
			expect: []expected{{"fail", "pass", "pass", "pass", "fail", "inner ring far above the limit at switch-off"}},
		},
		{
			part: "QM-208", support: "hot plate", note: "laid on the plate by its outer ring", riseWhy: coupled,
			asked: bearing(120, 35, 77, 1.5),
			log: Log{Name: "03-lapwing-fan-end.csv", Seed: 9003, IntervalS: 2, Start: day(2, 11, 10, 3, 0),
				Session: Session{AirC: 19.2,
					Inner: Probe{LagS: 5, OffsetK: 0.2, NoiseK: 0.15}, Outer: Probe{LagS: 4, OffsetK: 0.3, NoiseK: 0.15},
					Stages: []Stage{on(withOuterShare(qm208(), 0.86), 19.2, 60, 1500, timed(155, 11))}},
				Dialect: Dialect{Delimiter: "\t", Clock: HourMinSec, Decimals: 1, UnitRow: true, Columns: []Column{
					{"Time", "h:mm:ss", Clock}, {"Bore probe", "°C", InnerProbe}, {"Outer ring probe", "°C", OuterProbe}, {"Ambient", "°C", AirProbe}}}},
			expect: []expected{{"fail", "pass", "pass", "pass", "fail", "outer ring above the limit, inner ring never"}},
		},
		{
			part: "QM-520", support: "B90", note: "full power, straight from the cold store", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "04-longtom-dryer-7.csv", Seed: 9004, IntervalS: 2, Start: day(2, 17, 7, 55, 10),
				Session: Session{AirC: 24.3,
					Inner: Probe{LagS: 6, OffsetK: 0.3, NoiseK: 0.18}, Outer: Probe{LagS: 7, OffsetK: -0.1, NoiseK: 0.18},
					Stages: []Stage{on(coldGrease(qm520(), 17), 24.3, 50, 1500, timed(3950, 5))}},
				Dialect: Dialect{Delimiter: ",", Clock: ISOZulu, Decimals: 1, Columns: []Column{
					{"timestamp", "", Clock}, {"inner (C)", "", InnerProbe}, {"outer (C)", "", OuterProbe}, {"ambient (C)", "", AirProbe}}}},
			expect: []expected{{"pass", "fail", "pass", "pass", "fail", "inner ring far hotter than the outer ring"}},
		},
		{
			part: "QM-415", support: "B60", note: "taken off early", riseWhy: coupled,
			asked: bearing(120, 35, 98, 1.5),
			log: Log{Name: "05-bittern-press-2.csv", Seed: 9005, IntervalS: 3, Start: day(2, 24, 14, 20, 0),
				Session: Session{AirC: 18.4, AirDriftKPer: 0.8,
					Inner: Probe{LagS: 6, OffsetK: -0.3, NoiseK: 0.1}, Outer: Probe{LagS: 6, OffsetK: -0.2, NoiseK: 0.1},
					Stages: []Stage{on(qm415(), 18.4, 45, 1800, timed(1050, 8))}},
				Dialect: Dialect{Delimiter: ",", Clock: Minutes, Decimals: 1, Columns: []Column{
					{"elapsed (min)", "", Clock}, {"inner ring (°C)", "", InnerProbe}, {"outer ring (°C)", "", OuterProbe}}}},
			expect: []expected{{"pass", "pass", "fail", "pass", "fail", "bore never reached the temperature that the seat needs"}},
		},
		{
			part: "QM-310", support: "B60", note: "outer cable found broken", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "06-heron-free-end.csv", Seed: 9006, IntervalS: 2, Start: day(3, 4, 11, 30, 0),
				Session: Session{AirC: 21.0,
					Inner:  Probe{LagS: 4, OffsetK: 0.2, NoiseK: 0.12},
					Outer:  Probe{LagS: 5, OffsetK: -0.3, NoiseK: 0.12, Open: []Span{{322, 1e9}}, OpenText: "OPEN"},
					Stages: []Stage{on(qm310(), 21.0, 40, 1100, timed(288, 9))}},
				Dialect: Dialect{Delimiter: ";", Clock: Seconds, ClockDec: 1, Decimals: 1, Columns: []Column{
					{"t [s]", "", Clock}, {"inner [°C]", "", InnerProbe}, {"outer [°C]", "", OuterProbe}}}},
			expect: []expected{{"unproven", "unproven", "pass", "unproven", "unproven", "outer probe open from mid-ramp on: its peak and the difference were not seen"}},
		},
		{
			part: "QM-208", support: "B40", note: "two bearings one after the other", riseWhy: coupled,
			asked: bearing(120, 35, 77, 1.5),
			log: Log{Name: "07-otter-pulper-pair.csv", Seed: 9007, IntervalS: 2, Start: day(3, 10, 8, 2, 30),
				Session: Session{AirC: 20.2,
					Inner: Probe{LagS: 4, OffsetK: 0.1, NoiseK: 0.1}, Outer: Probe{LagS: 4, OffsetK: 0.3, NoiseK: 0.1},
					Stages: []Stage{on(qm208(), 20.2, 44, 760, timed(123, 5)), inAir(90), on(qm208(), 20.4, 70, 940, timed(149, 8))}},
				Dialect: Dialect{Delimiter: ",", Clock: ISOSpace, Decimals: 1, Quoted: true, Columns: []Column{
					{"Date/Time", "", Clock}, {"Inner ring, °C", "", InnerProbe}, {"Outer ring, °C", "", OuterProbe}}}},
			expect: []expected{
				{"pass", "pass", "fail", "pass", "fail", "first part never reached the temperature that the seat needs"},
				pass("second part within all limits and warm enough"),
			},
		},
		{
			part: "QM-310", support: "B60", note: "held at 110 °C for 8 min", riseWhy: held,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "08-magpie-unwind.csv", Seed: 9008, IntervalS: 2, Start: day(3, 18, 15, 0, 0),
				Session: Session{AirC: 21.7, AirDriftKPer: 1.2,
					Inner: Probe{LagS: 4, OffsetK: 0.2, NoiseK: 0.1}, Outer: Probe{LagS: 5, OffsetK: -0.2, NoiseK: 0.1},
					Stages: []Stage{on(qm310(), 21.7, 30, 1700, Heating{Mode: OnOff, PowerW: 350, ForS: 1080, SetPointC: 110, BandK: 1.5})}},
				Dialect: Dialect{Delimiter: "\t", Clock: HourMinSec, Decimals: 1, Columns: []Column{
					{"elapsed", "", Clock}, {"inner °C", "", InnerProbe}, {"outer °C", "", OuterProbe}, {"set-point °C", "", SetPoint}, {"power %", "", PowerPercent}}}},
			expect: []expected{pass("held 10 K below the limit, even and warm enough")},
		},
		{
			part: "QM-520", support: "B90", note: "logger battery flat", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "09-longtom-dryer-8.csv", Seed: 9009, IntervalS: 2, Start: day(3, 25, 9, 45, 0), StopAtS: 980,
				Session: Session{AirC: 23.6,
					Inner: Probe{LagS: 6, OffsetK: 0.2, NoiseK: 0.15}, Outer: Probe{LagS: 7, OffsetK: 0.1, NoiseK: 0.15},
					Stages: []Stage{on(qm520(), 23.6, 40, 2000, timed(1730, 22))}},
				Dialect: Dialect{Delimiter: ";", Comma: true, Clock: Seconds, Decimals: 1, Latin1: true, CRLF: true, Columns: []Column{
					{"Temps (s)", "", Clock}, {"Bague intérieure (°C)", "", InnerProbe}, {"Bague extérieure (°C)", "", OuterProbe}}}},
			expect: []expected{{"unproven", "unproven", "pass", "unproven", "unproven", "log stopped while the part was still heating: how hot it became was not seen"}},
		},
		{
			part: "QM-310", support: "B60", note: "probe leads beside the heater's yoke", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "10-otter-gearbox-in.csv", Seed: 9010, IntervalS: 1, Start: day(4, 1, 10, 10, 0),
				Session: Session{AirC: 20.9,
					Inner:  Probe{LagS: 4, OffsetK: -0.2, NoiseK: 0.15, SpikeChance: 0.06, SpikeMinK: 5, SpikeMaxK: 48},
					Outer:  Probe{LagS: 5, OffsetK: 0.2, NoiseK: 0.15, SpikeChance: 0.05, SpikeMinK: 5, SpikeMaxK: 40},
					Stages: []Stage{on(qm310(), 20.9, 30, 1150, timed(285, 9))}},
				Dialect: Dialect{Delimiter: ",", Clock: Seconds, Decimals: 1, Columns: []Column{
					{"time (s)", "", Clock}, {"inner (°C)", "", InnerProbe}, {"outer (°C)", "", OuterProbe}}}},
			expect: []expected{pass("spikes apart, both rings below the limit, even and warm enough")},
		},
		{
			part: "QM-415", support: "B60", note: "long soak under the oven's controller", riseWhy: "the proportional controller takes power away long before the set-point",
			asked: bearing(120, 35, 98, 1.5),
			log: Log{Name: "11-bittern-press-3.csv", Seed: 9011, IntervalS: 60, Start: day(4, 9, 13, 5, 0),
				Session: Session{AirC: 19.8,
					Inner: Probe{LagS: 8, OffsetK: 0.2, NoiseK: 0.15}, Outer: Probe{LagS: 8, OffsetK: -0.3, NoiseK: 0.15},
					Stages: []Stage{on(qm415(), 19.8, 170, 9000, Heating{Mode: Proportional, PowerW: 1000, ForS: 5400, SetPointC: 112, BandK: 12})}},
				Dialect: Dialect{Delimiter: ",", Clock: TimeOfDayMin, Unit: DegF, StepUnits: 1, Columns: []Column{
					{"date", "", DateOnly}, {"time", "", Clock}, {"inner ring (°F)", "", InnerProbe}, {"outer ring (°F)", "", OuterProbe}}}},
			expect: []expected{pass("long hold seen by many samples, below the limit, even and warm enough")},
		},
		{
			part: "QM-310", support: "B40", note: "probes not labelled", riseWhy: coupled,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "12-lapwing-motor-end.csv", Seed: 9012, IntervalS: 2, Start: day(4, 16, 9, 0, 0),
				Session: Session{AirC: 20.1,
					Inner: Probe{LagS: 4, OffsetK: 0.3, NoiseK: 0.12}, Outer: Probe{LagS: 5, OffsetK: 0.1, NoiseK: 0.12},
					Stages: []Stage{on(qm310(), 20.1, 34, 1000, timed(380, 6))}},
				Dialect: Dialect{Delimiter: ",", Clock: Seconds, Decimals: 1, Columns: []Column{
					{"Time (s)", "", Clock}, {"CH1 (°C)", "", InnerProbe}, {"CH2 (°C)", "", OuterProbe}}}},
			expect: []expected{{"pass", "pass", "unproven", "unproven", "unproven", "one probe reached the needed temperature, the other did not, and nothing says which sat on the bore"}},
		},
		{
			part: "QM-612", support: "B90", note: "coupling hub, one probe in the bore", riseWhy: "one body, constant power and specific heat, fast heater; only the probe lags",
			asked: oneBody("coupling", 250, 145, 1.5),
			log: Log{Name: "13-otter-coupling-hub.csv", Seed: 9013, IntervalS: 3, Start: day(4, 22, 14, 12, 0),
				Session: Session{AirC: 20.5, Inner: Probe{LagS: 3, OffsetK: 0.4, NoiseK: 0.15},
					Stages: []Stage{onBarePower(qm612(), 20.5, 60, 2100, timed(1500, 20))}},
				Dialect: Dialect{Delimiter: ",", Clock: Seconds, Decimals: 2, StepUnits: 0.01, Unit: DegK, UnitRow: true, Columns: []Column{
					{"time", "s", Clock}, {"hub bore", "K", InnerProbe}}}},
			expect: []expected{{"pass", "not-asked", "pass", "pass", "pass", "hub far below its limit and warm enough"}},
		},
		{
			part: "QM-705", support: "B90", note: "gear wheel, one probe in the bore", riseWhy: "one body; the specific heat rises, which bends it as first order would",
			asked: oneBody("gear", 180, 127, 2.5),
			log: Log{Name: "14-heron-gear-wheel.csv", Seed: 9014, IntervalS: 5, Start: day(4, 29, 8, 30, 0),
				Session: Session{AirC: 19.5, Inner: Probe{LagS: 5, OffsetK: -0.8, NoiseK: 0.2},
					Stages: []Stage{on(qm705(), 19.5, 75, 3300, timed(760, 20))}},
				Dialect: Dialect{Delimiter: ";", Comma: true, Clock: Seconds, Decimals: 1, StepUnits: 0.5, Latin1: true, Columns: []Column{
					{"Zeit (s)", "", Clock}, {"Zahnrad Bohrung (°C)", "", InnerProbe}}}},
			expect: []expected{{"pass", "not-asked", "pass", "pass", "pass", "gear below its limit and warm enough"}},
		},
		{
			part: "QM-310", support: "B60", note: "held at 120 °C as always", riseWhy: held,
			asked: bearing(120, 35, 89, 1.5),
			log: Log{Name: "15-magpie-winder-core.csv", Seed: 9015, IntervalS: 2, Start: day(5, 6, 10, 40, 0),
				Session: Session{AirC: 21.3,
					Inner: Probe{LagS: 4, OffsetK: -0.2, NoiseK: 0.06}, Outer: Probe{LagS: 5, OffsetK: 0.1, NoiseK: 0.06},
					Stages: []Stage{on(qm310(), 21.3, 30, 1700, Heating{Mode: Proportional, PowerW: 350, ForS: 1260, SetPointC: 120, BandK: 3.2})}},
				Dialect: Dialect{Delimiter: ",", Clock: ISOZulu, Decimals: 1, Columns: []Column{
					{"utc", "", Clock}, {"inner_c", "", InnerProbe}, {"outer_c", "", OuterProbe}, {"setpoint_c", "", SetPoint}}}},
			expect: []expected{{"unproven", "pass", "pass", "pass", "unproven", "hold within the uncertainty of the limit: the probe can't show on which side"}},
		},
		{
			part: "QM-415", support: "B60", note: "breaker tripped once, then reduced power", riseWhy: "power was cut and came back lower",
			asked: bearing(120, 35, 98, 1.5),
			log: Log{Name: "16-bittern-felt-roll.csv", Seed: 9016, IntervalS: 2, Start: day(5, 13, 16, 20, 0),
				Session: Session{AirC: 18.9,
					Inner: Probe{LagS: 5, OffsetK: 0.2, NoiseK: 0.12}, Outer: Probe{LagS: 6, OffsetK: 0.3, NoiseK: 0.12},
					Stages: []Stage{on(qm415(), 18.9, 40, 2000, Heating{Mode: UntilReached, PowerW: 1400, ForS: 1500, SetPointC: 108, FallPerK: 0.001,
						Steps: []Step{{240, 0}, {300, 0.7}}})}},
				Dialect: Dialect{Delimiter: ";", Clock: TimeOfDay, Decimals: 1, Preamble: []string{"# workshop logger 3", "# date: 2026-05-13", "# interval: 2 s"}, Columns: []Column{
					{"time", "", Clock}, {"inner ring °C", "", InnerProbe}, {"outer ring °C", "", OuterProbe}}}},
			expect: []expected{pass("within all limits and warm enough in spite of the interruption")},
		},
		{
			part: "QM-118", support: "B40", note: "short excursion allowed by the drawing", riseWhy: "one body, constant power and specific heat, fast heater; only the probe lags",
			asked: Asked{Kind: "sleeve", MaxTempC: 120, NeedTempC: sampledata.Some(86), OverTimeAllowedS: 300, ProbeToleranceK: 1.5},
			log: Log{Name: "17-lapwing-seal-sleeve.csv", Seed: 9017, IntervalS: 1, Start: day(5, 20, 11, 11, 11),
				Session: Session{AirC: 22.4, Inner: Probe{LagS: 2.5, OffsetK: 0.2, NoiseK: 0.08},
					Stages: []Stage{onBarePower(qm118(), 22.4, 30, 1200, timed(342, 11))}},
				Dialect: Dialect{Delimiter: ",", Clock: Seconds, Decimals: 1, Columns: []Column{
					{"seconds", "", Clock}, {"sleeve bore °C", "", InnerProbe}}}},
			expect: []expected{{"pass", "not-asked", "pass", "pass", "pass", "above the limit for less than the time allowed"}},
		},
	}
}
