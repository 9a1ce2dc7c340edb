// Package parts reads a plant's parts list: what each part is, what its seat needs, and what it stands. A
// check or a need then names the part instead of repeating its figures.
//
// The list is CSV of our own (Columns). Reading is strict, since a figure that is lost or misread here would be
// judged by: an unknown column, an absent cell, a figure that can't be, or two figures that contradict each
// other are refused by file, line and column, with what to write instead. Nothing is guessed.
package parts
