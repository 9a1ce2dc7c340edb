package judge

import (
	"math"
	"strings"
	"testing"

	"ringheat/analyze/segment"
	"ringheat/analyze/series"
)

// TestVerdictRules goes through the verdict rules one by one on warmings whose truth is plain.
func TestVerdictRules(t *testing.T) {
	with := func(f func(b *bench)) bench { b := defaultBench(); f(&b); return b }
	open := func(ch int, from, to float64) func(*series.Log, *Case) {
		return func(l *series.Log, c *Case) { missing(l, ch, from, to) }
	}
	flaw := func(kind segment.DefectKind, ch int, from, to float64) func(*series.Log, *Case) {
		return func(l *series.Log, c *Case) { defect(c, kind, ch, from, to) }
	}
	plain := Settings{MaxTempC: num(120), MaxRingDiffK: num(35), ProbeToleranceK: num(2.5)}
	set := func(f func(s *Settings)) Settings { s := plain; f(&s); return s }
	const pass, fail, unproven, notAsked = "pass", "fail", "unproven", "not-asked"

	for _, tc := range []struct {
		name     string
		bench    bench
		settings Settings
		want     [5]string // max-temp, ring-diff, need-temp, record, verdict
		say      string    // must stand in the reason
	}{
		// Decision rules on max-temp: U is 2.64 K here.
		{"clear pass", defaultBench(), plain, [5]string{pass, pass, notAsked, pass, pass}, "seat not asked"},
		{"strict: within U of the limit", with(func(b *bench) { b.innerC = 118 }), plain, [5]string{unproven, pass, notAsked, pass, unproven}, "only 2.0 K below the limit of 120 °C"},
		{"strict: at the limit is not a fail", with(func(b *bench) { b.innerC = 120 }), plain, [5]string{unproven, pass, notAsked, pass, unproven}, "limit of 120 °C"},
		{"strict: one step above the limit fails", with(func(b *bench) { b.innerC = 120.1 }), plain, [5]string{fail, pass, notAsked, pass, fail}, "not accepted"},
		{"strict: far above", with(func(b *bench) { b.innerC = 128.4; b.outerC = 110 }), plain, [5]string{fail, pass, notAsked, pass, fail}, "inner ring peaked at 128.4 °C, 8.4 K above the limit of 120 °C"},
		{"strict: outer ring decides", with(func(b *bench) { b.outerC = 125 }), plain, [5]string{fail, pass, notAsked, pass, fail}, "outer ring peaked at 125.0 °C"},
		{"three-zone: above but within U", with(func(b *bench) { b.innerC = 121; b.outerC = 115 }), set(func(s *Settings) { s.Rule = ThreeZone }), [5]string{unproven, pass, notAsked, pass, unproven}, "within the uncertainty"},
		{"three-zone: above by more than U", with(func(b *bench) { b.innerC = 123; b.outerC = 115 }), set(func(s *Settings) { s.Rule = ThreeZone }), [5]string{fail, pass, notAsked, pass, fail}, ""},
		{"simple: equality accepts", with(func(b *bench) { b.innerC = 120; b.outerC = 115 }), set(func(s *Settings) { s.Rule = Simple }), [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"simple: one step above fails", with(func(b *bench) { b.innerC = 120.1; b.outerC = 115 }), set(func(s *Settings) { s.Rule = Simple }), [5]string{fail, pass, notAsked, pass, fail}, ""},
		{"guard factor widens", with(func(b *bench) { b.innerC = 116; b.outerC = 115 }), set(func(s *Settings) { s.GuardFactor = num(2) }), [5]string{unproven, pass, notAsked, pass, unproven}, ""},

		// Over-time allowance: ramp 1/3 K/s, cooling 0.05 K/s, 3 K above 120 °C takes 60 s down.
		{"allowance kept", with(func(b *bench) { b.innerC, b.outerC = 123, 115 }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(200), num(5), tight }), [5]string{pass, pass, notAsked, pass, pass}, "was above the limit for"},
		{"allowance used up", with(func(b *bench) { b.innerC, b.outerC = 123, 115 }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(60), num(5), tight }), [5]string{fail, pass, notAsked, pass, fail}, "was above the limit for"},
		{"allowance ends at the ceiling", with(func(b *bench) { b.innerC, b.outerC = 126, 115 }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(9999), num(5), tight }), [5]string{fail, pass, notAsked, pass, fail}, "the allowance ends 5 K above it"},
		{"allowance near the ceiling", with(func(b *bench) { b.innerC, b.outerC = 124.9, 115 }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(9999), num(5), tight }), [5]string{unproven, pass, notAsked, pass, unproven}, "neither side is proven"},
		{"allowance default ceiling is said", with(func(b *bench) { b.innerC, b.outerC = 126, 115 }), set(func(s *Settings) { s.OverTimeAllowedS, s.ProbeToleranceK = num(9999), tight }), [5]string{fail, pass, notAsked, pass, fail}, "ends 5 K above it"},

		// Above 120 °C for 51 s, above 119.8 °C (L - U) for 55.6 s: 53 s allowed prove nothing.
		{"allowance within the uncertainty of the seconds", with(func(b *bench) { b.innerC, b.outerC, b.step = 122.2, 115, 0.01 }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(53), num(5), tight }), [5]string{unproven, pass, notAsked, pass, unproven}, "neither side is proven"},
		{"allowance and a clock that stepped back", with(func(b *bench) {
			b.innerC, b.outerC = 123, 115
			b.spoil = func(l *series.Log, c *Case) {
				for i := 305; i < len(l.TimeS); i++ {
					l.TimeS[i] -= 100
				}
			}
		}), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(200), num(5), tight }), [5]string{unproven, pass, notAsked, pass, unproven}, "the seconds can't be counted"},
		{"allowance doesn't cover what was not seen", with(func(b *bench) { b.innerC, b.outerC = 123, 121; b.spoil = open(0, 295, 325) }), set(func(s *Settings) { s.OverTimeAllowedS, s.OverCeilingK, s.ProbeToleranceK = num(200), num(5), tight }), [5]string{unproven, pass, notAsked, unproven, unproven}, "has no reading for"},

		// Evenness.
		{"uneven", with(func(b *bench) { b.innerC, b.outerC = 110, 60 }), plain, [5]string{pass, fail, notAsked, pass, fail}, "inner ring 50.0 K hotter than outer ring at t = 5 min, 15.0 K above the limit of 35 K"},
		{"uneven, outer hotter", with(func(b *bench) { b.innerC, b.outerC = 60, 110 }), plain, [5]string{pass, fail, notAsked, pass, fail}, "outer ring 50.0 K hotter than inner ring"},
		{"evenness within U", with(func(b *bench) { b.innerC, b.outerC = 110, 77 }), plain, [5]string{pass, unproven, notAsked, pass, unproven}, "only 2.0 K below the limit of 35 K"},
		{"no outer probe", with(func(b *bench) { b.oneProbe = true }), plain, [5]string{pass, unproven, notAsked, unproven, unproven}, "no probe on the outer ring"},
		{"one body is not asked", with(func(b *bench) { b.oneProbe = true }), Settings{Kind: Gear, ProbeToleranceK: num(2.5)}, [5]string{pass, notAsked, notAsked, pass, pass}, "PASS for heat, seat not asked"},

		// Needed temperature.
		{"need reached", defaultBench(), set(func(s *Settings) { s.NeedTempC = num(90) }), [5]string{pass, pass, pass, pass, pass}, "reached at the peak, not shown at mounting"},
		{"need missed", defaultBench(), set(func(s *Settings) { s.NeedTempC = num(101) }), [5]string{pass, pass, fail, pass, fail}, "inner ring reached 100.0 °C, 1.0 K below the 101 °C that the seat needs: not accepted"},
		{"need missed under three-zone", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.Rule = num(101), ThreeZone }), [5]string{pass, pass, unproven, pass, unproven}, ""},
		{"need within U", defaultBench(), set(func(s *Settings) { s.NeedTempC = num(99) }), [5]string{pass, pass, unproven, pass, unproven}, "only 1.0 K above the 99 °C"},
		{"need equal under simple", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.Rule = num(100), Simple }), [5]string{pass, pass, pass, pass, pass}, ""},
		{"need's own uncertainty", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.NeedTempU = num(95), 4 }), [5]string{pass, pass, unproven, pass, unproven}, "only 5 K above"},
		{"warm enough when mounted", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(90), num(400) }), [5]string{pass, pass, pass, pass, pass}, "was at 95.0 °C when mounted"},
		{"too cool when mounted", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(92), num(560) }), [5]string{pass, pass, fail, pass, fail}, "was at 87.0 °C when mounted, 5.0 K below"},
		{"mounted after the log's end", defaultBench(), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(80), num(900) }), [5]string{pass, pass, unproven, unproven, unproven}, "after the log's end"},
		{"mounted after the bore's last reading", with(func(b *bench) { b.spoil = open(0, 360, 600) }), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(80), num(500) }), [5]string{pass, pass, unproven, unproven, unproven}, "was last read 2 min 21 s before it was mounted"},
		{"mounted in a gap, both edges warm", with(func(b *bench) { b.spoil = open(0, 380, 420) }), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(85), num(400) }), [5]string{pass, pass, pass, pass, pass}, "or more when mounted"},
		{"mounted in a gap, later edge too cool", with(func(b *bench) { b.spoil = open(0, 380, 580) }), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(90), num(400) }), [5]string{pass, pass, unproven, unproven, unproven}, "was not read for"},

		// Missing evidence.
		{"open inner probe across the peak", with(func(b *bench) { b.innerC, b.outerC = 115, 108; b.spoil = open(0, 290, 310) }), plain, [5]string{unproven, pass, notAsked, unproven, unproven}, "has no reading for"},
		{"open inner probe far below the limit", with(func(b *bench) { b.innerC = 80; b.outerC = 70; b.spoil = open(0, 270, 330) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"open early in the ramp", with(func(b *bench) { b.spoil = open(0, 100, 130) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"open while cooling", with(func(b *bench) { b.spoil = open(0, 400, 600) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"open for good shortly before the peak", with(func(b *bench) { b.innerC, b.outerC = 80, 75; b.spoil = open(0, 290, 600) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"open for good in the ramp", with(func(b *bench) { b.spoil = open(0, 200, 600) }), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "could have reached"},
		{"outer probe open from the start", with(func(b *bench) { b.spoil = open(1, 0, 600) }), plain, [5]string{pass, unproven, notAsked, unproven, unproven}, "outer ring gave no reading"},
		{"exceeded before the gap", with(func(b *bench) { b.innerC = 125; b.outerC = 115; b.spoil = open(0, 310, 600) }), plain, [5]string{fail, pass, notAsked, pass, fail}, ""},
		{"need reached before the gap", with(func(b *bench) { b.innerC, b.outerC = 80, 70; b.spoil = open(0, 310, 600) }), set(func(s *Settings) { s.NeedTempC = num(70) }), [5]string{pass, pass, pass, pass, pass}, ""},
		{"need perhaps reached in the gap", with(func(b *bench) { b.innerC, b.outerC = 80, 70; b.spoil = open(0, 280, 320) }), set(func(s *Settings) { s.NeedTempC = num(79) }), [5]string{pass, pass, unproven, unproven, unproven}, "has no reading for"},
		{"still rising", with(func(b *bench) { b.endS = 250; b.spoil = flaw(segment.StillRising, -1, 250, 250) }), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "still warming"},
		{"still rising but exceeded", with(func(b *bench) {
			b.innerC, b.outerC, b.endS = 150, 140, 250
			b.spoil = flaw(segment.StillRising, -1, 250, 250)
		}), plain, [5]string{fail, unproven, notAsked, unproven, fail}, "peaked at"},
		{"exceeded: what is missing elsewhere can't change it", with(func(b *bench) {
			b.innerC, b.endS, b.oneProbe = 250, 250, true
			b.spoil = flaw(segment.StillRising, -1, 250, 250)
		}), Settings{Kind: Gear, ProbeToleranceK: num(2.5)}, [5]string{fail, notAsked, notAsked, pass, fail}, "bore peaked at"},
		{"no inner probe", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { c.Inner = nil }
		}), set(func(s *Settings) { s.NeedTempC = num(80) }), [5]string{unproven, unproven, unproven, unproven, unproven}, "no probe on the inner ring"},
		{"no inner probe, outer ring exceeded", with(func(b *bench) {
			b.outerC = 130
			b.spoil = func(l *series.Log, c *Case) { c.Inner = nil }
		}), plain, [5]string{fail, unproven, notAsked, unproven, fail}, "outer ring peaked at 130.0 °C"},
		{"three readings", with(func(b *bench) {
			b.every, b.heatS, b.offS = 300, 300, 300
			b.innerC, b.outerC = 80, 75
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "was read 3 times only"},
		{"still rising, need not yet reached", with(func(b *bench) { b.endS = 250; b.spoil = flaw(segment.StillRising, -1, 250, 250) }), set(func(s *Settings) { s.NeedTempC = num(100) }), [5]string{unproven, unproven, unproven, unproven, unproven}, "still warming"},
		{"still rising, need reached", with(func(b *bench) { b.endS = 250; b.spoil = flaw(segment.StillRising, -1, 250, 250) }), set(func(s *Settings) { s.NeedTempC = num(70) }), [5]string{unproven, unproven, pass, unproven, unproven}, "still warming"},
		{"detached near the peak", with(func(b *bench) { b.innerC, b.outerC = 115, 112; b.spoil = flaw(segment.ProbeDetached, 0, 285, 340) }), plain, [5]string{unproven, pass, notAsked, unproven, unproven}, "came off"},
		{"never on the ring", with(func(b *bench) { b.innerC, b.outerC = 70, 70; b.spoil = flaw(segment.ProbeDetached, 1, 0, 600) }), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "was not on the outer ring from the start"},
		{"detached while cooling", with(func(b *bench) { b.spoil = flaw(segment.ProbeDetached, 0, 500, 600) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"detached probe is no unevenness", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := 500; i <= 600; i++ {
					l.Channels[1].C[i] = 25
				}
				defect(c, segment.ProbeDetached, 1, 500, 600)
			}
		}), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"poor contact", with(func(b *bench) { b.spoil = flaw(segment.PoorContact, 0, 0, 600) }), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "poor contact"},
		{"low and slow is no poor contact where nothing says which ring it is", with(func(b *bench) { b.source = series.ByOrder; b.spoil = flaw(segment.PoorContact, 0, 0, 600) }), plain, [5]string{pass, pass, notAsked, pass, pass}, "probe 'TC1'"},
		{"poor contact can't miss the need", with(func(b *bench) { b.spoil = flaw(segment.PoorContact, 0, 0, 600) }), set(func(s *Settings) { s.NeedTempC = num(110) }), [5]string{unproven, unproven, unproven, unproven, unproven}, "poor contact"},
		{"poor contact still reached the need", with(func(b *bench) { b.spoil = flaw(segment.PoorContact, 0, 0, 600) }), set(func(s *Settings) { s.NeedTempC = num(90) }), [5]string{unproven, unproven, pass, unproven, unproven}, "poor contact"},
		{"probe put on late", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { missing(l, 0, 0, 60); defect(c, segment.ProbeLate, 0, 0, 60) }
		}), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"probe put on when heating had ended", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { missing(l, 0, 0, 320); defect(c, segment.ProbeLate, 0, 0, 320) }
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "heating had ended"},
		{"cold probe put on when heating had ended", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := range 321 {
					l.Channels[0].C[i] = 20
				}
				defect(c, segment.ProbeLate, 0, 0, 320)
			}
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "heating had ended"},
		{"poor contact from mid-ramp on", with(func(b *bench) { b.innerC, b.outerC = 80, 70; b.spoil = flaw(segment.PoorContact, 0, 290, 600) }), plain, [5]string{unproven, pass, notAsked, unproven, unproven}, "poor contact"},
		{"the jump of a probe put on is no warming", with(func(b *bench) {
			b.innerC, b.outerC = 110, 100
			b.spoil = func(l *series.Log, c *Case) {
				for i := range 61 {
					l.Channels[0].C[i] = 20
				}
				defect(c, segment.ProbeLate, 0, 0, 61)
				missing(l, 0, 280, 296)
			}
		}), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"too coarse, near the limit", with(func(b *bench) {
			b.innerC, b.outerC, b.every = 116.9, 110, 20
			b.spoil = flaw(segment.TooCoarse, -1, 0, 600)
		}), plain, [5]string{unproven, pass, notAsked, unproven, unproven}, "too seldom"},
		{"too coarse, rings far apart", with(func(b *bench) {
			b.innerC, b.outerC, b.every = 100, 70, 20
			b.spoil = flaw(segment.TooCoarse, -1, 0, 600)
		}), plain, [5]string{pass, unproven, notAsked, unproven, unproven}, "too seldom to see the largest difference"},
		{"probe taken off before mounting", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := 380; i < l.Len(); i++ {
					l.Channels[0].C[i] = 30
				}
				defect(c, segment.ProbeDetached, 0, 380, 600)
			}
		}), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(80), num(400) }), [5]string{pass, pass, unproven, unproven, unproven}, "did not sit well"},
		{"too coarse, far below", with(func(b *bench) {
			b.innerC, b.outerC, b.every = 80, 70, 20
			b.spoil = flaw(segment.TooCoarse, -1, 0, 600)
		}), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"onset not seen, barely warm", with(func(b *bench) { b.spoil = flaw(segment.OnsetNotSeen, -1, 0, 0) }), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"onset not seen, already hot", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				cut := 200
				l.TimeS = l.TimeS[cut:]
				for k := range l.Channels {
					l.Channels[k].C = l.Channels[k].C[cut:]
				}
				c.Cycle.Rows.End -= cut
				c.Cycle.Onset.Known = false
				defect(c, segment.OnsetNotSeen, -1, 200, 200)
			}
		}), plain, [5]string{pass, unproven, notAsked, unproven, unproven}, "already warm"},
		{"cooling only", with(func(b *bench) { b.heatS, b.offS = 0, 0; b.spoil = flaw(segment.CoolingOnly, -1, 0, 600) }), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "cooling only"},
		{"clock steps back, nothing lost", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := 150; i < len(l.TimeS); i++ {
					l.TimeS[i] -= 100
				}
				c.Cycle.End.AtS -= 100
				c.Cycle.Defects = append(c.Cycle.Defects, segment.Defect{Kind: segment.ClockFault, Channel: -1, First: 150, End: 151})
			}
		}), plain, [5]string{pass, pass, notAsked, pass, pass}, ""},
		{"clock steps back and time is lost", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := 150; i < len(l.TimeS); i++ {
					l.TimeS[i] -= 100
					l.Channels[0].C[i] += 10
				}
				c.Cycle.End.AtS -= 100
				c.Cycle.Defects = append(c.Cycle.Defects, segment.Defect{Kind: segment.ClockFault, Channel: -1, First: 150, End: 151})
			}
		}), set(func(s *Settings) { s.MaxTempC = num(140) }), [5]string{unproven, unproven, notAsked, unproven, unproven}, "stepped back"},
		{"clock stepped back, mounting time", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				for i := 150; i < len(l.TimeS); i++ {
					l.TimeS[i] -= 100
				}
				c.Cycle.End.AtS -= 100
			}
		}), set(func(s *Settings) { s.NeedTempC, s.MountedAtS = num(80), num(300) }), [5]string{pass, pass, unproven, unproven, unproven}, "stepped back"},
		{"a clock gap across the peak", with(func(b *bench) {
			b.innerC = 110
			b.spoil = func(l *series.Log, c *Case) {
				for i := 298; i < len(l.TimeS); i++ {
					l.TimeS[i] += 600
				}
				c.Cycle.End = segment.Moment{Row: 300, AtS: 900, Known: true}
			}
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "has no reading for"},
		{"not identifiable", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) {
				c.Cycle.End.Known = false
				defect(c, segment.NotIdentifiable, -1, 0, 600)
			}
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "could not be told"},
		{"mounting time that can't be placed", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { c.MountedProblem = "the log has no clock time" }
		}), set(func(s *Settings) { s.NeedTempC = num(90) }), [5]string{pass, pass, unproven, unproven, unproven}, "no clock time"},

		// Roles that are not settled.
		{"unlabelled, no need", with(func(b *bench) { b.source = series.ByOrder }), plain, [5]string{pass, pass, notAsked, pass, pass}, "probe 'TC1' peaked at"},
		{"unlabelled, both reach the need", with(func(b *bench) { b.source = series.ByOrder }), set(func(s *Settings) { s.NeedTempC = num(85) }), [5]string{pass, pass, pass, pass, pass}, "probe 'TC2' reached 90.0 °C"},
		{"unlabelled, only one reaches", with(func(b *bench) { b.source = series.ByOrder }), set(func(s *Settings) { s.NeedTempC = num(95) }), [5]string{pass, pass, unproven, unproven, unproven}, "don't agree"},
		{"unlabelled, neither reaches", with(func(b *bench) { b.source = series.ByOrder }), set(func(s *Settings) { s.NeedTempC = num(110) }), [5]string{pass, pass, fail, pass, fail}, "reached 90.0 °C"},
		{"unlabelled, size of difference", with(func(b *bench) { b.source = series.ByOrder; b.outerC = 50 }), plain, [5]string{pass, fail, notAsked, pass, fail}, "probe 'TC1' 50.0 K hotter than probe 'TC2'"},
		{"swapped", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { c.RolesInDoubt = "the probes look swapped" }
		}), set(func(s *Settings) { s.NeedTempC = num(95) }), [5]string{pass, pass, unproven, unproven, unproven}, "look swapped"},
		{"single unlabelled probe on a bearing", with(func(b *bench) { b.source, b.oneProbe = series.ByOrder, true }), set(func(s *Settings) { s.NeedTempC = num(80) }), [5]string{pass, unproven, unproven, unproven, unproven}, ""},
		{"single unlabelled probe on one body", with(func(b *bench) { b.source, b.oneProbe = series.ByOrder, true }), Settings{Kind: Sleeve, ProbeToleranceK: num(2.5), NeedTempC: num(80)}, [5]string{pass, notAsked, pass, pass, pass}, "bore peaked at"},

		// Several probes of one ring.
		{"coldest bore probe decides the need", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { c.Inner, c.Outer = []int{0, 1}, nil }
		}), Settings{Kind: Gear, ProbeToleranceK: num(2.5), NeedTempC: num(94)}, [5]string{pass, notAsked, fail, pass, fail}, "bore (probe 'TC2') reached 90.0 °C"},
		{"a dead bore probe", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { c.Inner, c.Outer = []int{0, 1}, nil; missing(l, 1, 0, 600) }
		}), Settings{Kind: Gear, ProbeToleranceK: num(2.5)}, [5]string{unproven, notAsked, notAsked, unproven, unproven}, "has no reading"},
		{"no reading at all", with(func(b *bench) {
			b.spoil = func(l *series.Log, c *Case) { missing(l, 0, 0, 600); missing(l, 1, 0, 600) }
		}), plain, [5]string{unproven, unproven, notAsked, unproven, unproven}, "no probe on the part gave a reading"},
	} {
		t.Run(tc.name, func(t *testing.T) {
			j := Judge(tc.bench.build(), mustCheck(t, tc.settings))
			want := "max-temp=" + tc.want[0] + " ring-diff=" + tc.want[1] + " need-temp=" + tc.want[2] + " record=" + tc.want[3] + " -> " + tc.want[4]
			if got := verdicts(j); got != want {
				t.Errorf("got  %s\nwant %s\nreason: %s", got, want, j.Reason)
				for _, f := range j.Findings {
					t.Logf("%s: %s: %s", f.Check, f.Verdict, f.Reason)
				}
			}
			if !strings.Contains(j.Reason, tc.say) {
				t.Errorf("reason %q does not say %q", j.Reason, tc.say)
			}
			complete(t, j)
		})
	}
}

// complete holds what every judgement must be, whatever its verdict.
func complete(t *testing.T, j CycleJudgement) {
	t.Helper()
	order := []Check{MaxTemp, RingDiff, NeedTemp, Record}
	if len(j.Findings) < len(order) {
		t.Fatalf("%d findings", len(j.Findings))
	}
	for i, c := range order {
		if j.Findings[i].Check != c {
			t.Errorf("finding %d is %s, want %s", i, j.Findings[i].Check, c)
		}
	}
	if j.Reason == "" || j.Rule == "" {
		t.Errorf("reason %q, rule %q", j.Reason, j.Rule)
	}
	for _, f := range j.Findings {
		if f.Reason == "" {
			t.Errorf("%s has no reason", f.Check)
		}
		if (f.Proven != nil) != (f.Verdict == Fail) {
			t.Errorf("%s is %s with proven %v", f.Check, f.Verdict, f.Proven)
		}
		for name, v := range map[string]*float64{"value": f.Value, "limit": f.Limit, "acceptance": f.Acceptance, "uncertainty": f.Uncertainty, "conformance": f.Conformance, "at": f.AtS} {
			if v != nil && (math.IsNaN(*v) || math.IsInf(*v, 0)) {
				t.Errorf("%s: %s is %v", f.Check, name, *v)
			}
		}
		for _, bad := range []string{"NaN", "Inf", "%!", "not known °C", "  "} {
			if strings.Contains(f.Reason, bad) {
				t.Errorf("%s: reason %q holds %q", f.Check, f.Reason, bad)
			}
		}
	}
	if r := j.Finding(Record); r.Verdict != Pass && r.Verdict != Unproven {
		t.Errorf("record is %s", r.Verdict)
	}
	if j.MaxRingDiffK != nil && *j.MaxRingDiffK < 0 {
		t.Errorf("largest difference %v", *j.MaxRingDiffK)
	}
}
