//go:build race

package chart

const raceEnabled = true
