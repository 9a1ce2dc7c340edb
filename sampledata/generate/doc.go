// Package generate makes the logs of the demo plant: it integrates the heat balance of a part that is
// being warmed, lets a lagging, noisy probe look at it, and writes what a logger would have written.
//
// The story in steps:
//
//  1. body.go: two rings that exchange heat with each other and with the air (or one body).
//  2. heating.go: a heater under a timer, an on/off or a proportional controller.
//  3. integrate.go: fourth-order Runge-Kutta over rings, heater and probes; the noise-free truth.
//  4. probe.go: offset, noise, spikes from the heater's field, display step, an open circuit.
//  5. logger.go: the bytes of one log in one logger's dialect.
//  6. truth.go, shape.go: what the log should be found to say.
//
// It shares no code with the analysis and imports nothing of it, so that neither can excuse the
// other's mistakes. Which logs the plant has, with their seeds, stands in the tests of this package;
//
//	go test ./sampledata/generate -update
//
// writes them, and without the flag the same test compares every byte. The seeds make the noise;
// the sums use float64 in a fixed order, so the same seed gives the same bytes.
package generate
