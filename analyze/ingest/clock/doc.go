// Package clock finds which column or columns of a logger's table carry time, and reads them.
//
// The work has three steps. Detect looks at a sample of rows and gives the candidates, best first,
// each with a Plan, a score and its evidence. Plan.Reader gives a Reader that turns each row's cells into seconds since
// the first row, in one pass and without allocation. Reader.Finish settles over the whole column what the sample left open
// (day and month order above all) and says what is still even.
//
// Times are kept as whole seconds and nanoseconds inside, so seconds since the first row are exact to the
// nanosecond for 104 days and to far less than a millisecond for centuries. Nothing is smoothed: repeats, gaps and steps back come out as they stand.
package clock
