// Package analyze calls the stages in order, and collects what they found. The whole job on one page:
//
//  1. ingest reads a probe logger's bytes: encoding, dialect, clock, columns, markers. Every guess is
//     kept with its evidence, every odd line with its number. The outcome is a series.Log in base units.
//  2. Channels are given to the rings: by flag, by heading, or by order where nothing else speaks (then
//     what hangs on the labels stays unproven).
//  3. segment marks spikes and finds the cycles: onset, rise, hold, end of heating, cooling, and what
//     was wrong with the record on the way.
//  4. curve estimates the first-order rise of each ring in each cycle, with intervals that hold, or says
//     that the rise does not determine it.
//  5. judge reads peaks and differences from the record, adds up what the probes leave uncertain, and
//     compares with the tolerance limits: a finding for each check, a verdict for the cycle.
//  6. The worst cycle is the log's verdict. A log that could not be read, or that shows no cycle, is
//     UNPROVEN: nothing passes without evidence.
//
// The stages don't know each other's insides; only this package calls them in a row. Package report
// puts the results into words and pictures and computes none.
package analyze
