//go:build race

package judge

const raceEnabled = true
