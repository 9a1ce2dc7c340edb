package ingest

// What a log may cost. A file over one of these caps is refused, or the line is reported, in words
// that name the cap; nothing grows with the length of the file except the Log itself.
const (
	MaxLineBytes    = 1 << 20   // bytes in one line
	MaxColumns      = 4096      // cells in one line
	MaxCellBytes    = 64 << 10  // bytes in one cell of a data line
	MaxHeaderLines  = 8         // heading and unit rows
	BlockRows       = 4096      // rows in one Block
	MaxZipBytes     = 256 << 20 // bytes of a zip file; its directory stands at the end, so it is held
	MaxUnpackedSize = 16 << 30  // bytes out of one compressed log
	headBytes       = 1 << 20   // text that the plan is made on
	// A compressed log that gives more than bombRatio times its bytes, over bombFloor bytes, is refused.
	// DEFLATE can't do better than 1032 : 1, and a log of one constant value in one-second steps stays below 60 : 1.
	bombRatio = 400
	bombFloor = 32 << 20
)
