// Package ingest reads any probe logger's CSV: bytes in, a series.Log and a Reading out, which says how the log was
// read and why.
//
// The stages, in order, each leaving a Guess with its evidence, what came second and the flag that pins it:
//
//  1. open: gzip and zip members; bombs, several members and files that are no text are refused (open.go)
//  2. encoding: byte order marks, UTF-8 validity, the NUL pattern of UTF-16, else Windows-1252 (encoding.go, text.go)
//  3. dialect: delimiter, quotes, decimal mark, sep= lines (dialect.go, split.go, decimals.go)
//  4. structure: preamble, headings, unit row, first row, layout (structure.go, preamble.go, quoted.go)
//  5. clock: which column is time and how it is written (package clock)
//  6. columns: probes with roles and units, and the columns that hold none, with the reason (columns.go, narrow.go, package
//     heading)
//  7. rows: lines into samples (fast.go, rows.go, package cell)
//
// The plan of stages 3 to 6 is made on the first lines of the log and a few windows further down (head.go), and then
// holds for every line. A line that is not as the plan expects goes down the tolerant path; what that can't read is a
// series.Problem with line, column and raw text, never a value. What only the whole record shows is added at the end
// (clockfacts.go, remarks.go, blocks.go).
//
// Opinions: a user's options narrow the search and are never overruled. Nothing is guessed in silence: an even choice is
// a question that names the flag which settles it. Nothing is repaired: gaps, repeats and steps back stay in the data and are
// listed. Each line of the decoded text is exactly one of sample, problem or skipped.
//
// To teach the reader a new quirk, add a case to testdata/dialect, see it fail, and mend the stage whose decision was wrong.
package ingest
