// Package cell reads one cell of a logger's table: bytes in, a number, a marker of no reading,
// an empty cell or plain text out.
//
// Three rules hold everywhere. A cell is never silently turned into another number: what is not
// plainly a number is Text or Marker, and the caller counts it. The words for infinity and
// not-a-number are markers, never numbers. A numeric marker such as -9999 is a number here;
// only the whole column can tell it from a reading, which FindErrors does.
package cell
