//go:build !race

package chart

const raceEnabled = false
