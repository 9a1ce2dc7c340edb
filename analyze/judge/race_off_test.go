//go:build !race

package judge

const raceEnabled = false
