//go:build !race

package curve

// raceEnabled shortens the simulations under the race detector.
const raceEnabled = false
