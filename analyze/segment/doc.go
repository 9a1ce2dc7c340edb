// Package segment finds heating cycles in a probe log and says what showed them.
//
// It stands between the reader (series.Log in) and the estimators (row windows out): for every cycle
// the onset, the ramp, power steps, hold, interruptions, the end of heating and the cooling; the
// samples that may be fitted as a first-order rise; the samples that are spikes; and the defects that
// make the record weaker evidence. It never changes or drops a sample.
//
// Method, in order:
//
//  1. Noise of each probe: a low quantile of each reading's distance from the line between its
//     neighbours, block by block, so that neither a ramp nor spikes inflate it; the display step adds
//     its rounding (step/sqrt(12)).
//  2. Spikes: one or two readings that lie off the robust local level and off the straight
//     continuation of BOTH sides, in the same direction, while the trace returns to where it was, at a
//     pace that the part never kept up. A peak at switch-off continues the ramp before it, and a step
//     stays, so neither is marked. Runs of three or four are marked only within a few seconds: spikes
//     next to spikes.
//  3. Swings: bin means go through a turning-point detector with hysteresis; swings are grouped into
//     cycles by how deep the trace fell between them (hold ripple, interruption, warm restart).
//  4. Kinks: inside a rise, y' = power - loss*y holds in its integral form, where a change of power is
//     one linear hinge term. The best hinge (least squares, all places tried) marks the ramp's end;
//     further sharp hinges are power steps.
//     A rise of fewer than fifteen readings ends with the first one that stands at the top.
//  5. Moments: each kink is dated where the readings first depart from the model of the stretch before
//     it, by least squares over (t-t0) and (t-t0)^2 departures: heater and probe lag round a kink, and
//     the crossing of two lines would come late by that lag.
//  6. Windows: the rise that is fitted begins after the start-up lag has died away and ends before the
//     kink; a little too early costs information, one late sample costs truth.
//  7. Defects: the two probes are compared, since a ring can't fall while the other is being heated,
//     rise faster than the hotter one, or cool faster than it was heated.
//
// All thresholds are in seconds, kelvins, display steps or shares of the rise, never in rows alone.
package segment
