package chart

import "image/color"

// levels is the number of steps of coverage in which edges are smoothed, none and full counted. More
// can't be told apart in print, and make the files a tenth larger.
const levels = 8

// inks are all colours that the pictures draw with. A colour that is not here is drawn as the nearest one.
var inks = [...]color.NRGBA{
	white, black, blue, orange, green, sky, vermillion, purple,
	ink, axisGrey, gridGrey, bandGrey, bandBlue, overPale, overTint, unevenPale, unevenTint,
}

// palette is the fixed table of colours of the pictures, and what comes of laying an ink over one of
// them. A picture of one byte a pixel is drawn and packed several times faster than one of four, and
// takes a quarter of the room; 256 colours are enough for seventeen inks and their smooth edges.
type palette struct {
	colours color.Palette
	rgb     [256][3]int32
	n       int
	// mixed[ink][level][under] is one more than the index of the colour nearest to the mixture, 0 where
	// it has not been asked for yet.
	mixed [len(inks)][levels][256]uint16
}

func newPalette() *palette {
	p := &palette{}
	for _, c := range inks { // an ink's index in the palette is its place in inks
		p.put(c)
	}
	blend := func(over, under color.NRGBA, steps int) {
		for i := 1; i < steps; i++ {
			p.add(mix(over, under, i, steps))
		}
	}
	blend(black, white, 3*(levels-1)) // the greys of ink and axes fall in between
	for _, c := range [...]color.NRGBA{blue, orange, vermillion, green, sky, purple} {
		blend(c, white, levels-1)
	}
	grounds := [...]color.NRGBA{overPale, overTint, unevenPale, unevenTint}
	for i, g := range grounds {
		blend(black, g, 6)
		blend(g, white, 3)
		if i < 2 { // the upper panel's
			for _, c := range [...]color.NRGBA{blue, orange, vermillion, green} {
				blend(c, g, 5)
			}
		} else {
			blend(purple, g, 5)
			blend(vermillion, g, 5)
		}
	}
	blend(blue, bandBlue, 5)
	blend(black, bandBlue, 5)
	for _, c := range [...]color.NRGBA{blue, orange, vermillion, green} {
		blend(black, c, 4)
	}
	blend(blue, orange, 5)
	blend(blue, vermillion, 4)
	blend(blue, green, 4)
	blend(orange, vermillion, 4)
	blend(orange, green, 4)
	blend(white, orange, 4)
	return p
}

// mix lays i of n parts of one colour over another.
func mix(over, under color.NRGBA, i, n int) color.NRGBA {
	part := func(a, b uint8) uint8 { return uint8((int(a)*i + int(b)*(n-i) + n/2) / n) }
	return color.NRGBA{R: part(over.R, under.R), G: part(over.G, under.G), B: part(over.B, under.B), A: 255}
}

func (p *palette) put(c color.NRGBA) {
	p.colours = append(p.colours, c)
	p.rgb[p.n] = [3]int32{int32(c.R), int32(c.G), int32(c.B)}
	p.n++
}

// add puts a colour unless one that the eye can't tell from it is there, or the table is full.
func (p *palette) add(c color.NRGBA) {
	if p.n < 256 && p.distance(p.nearest(c), c) > 12 {
		p.put(c)
	}
}

func (p *palette) distance(i uint8, c color.NRGBA) int32 {
	q := &p.rgb[i]
	dr, dg, db := q[0]-int32(c.R), q[1]-int32(c.G), q[2]-int32(c.B)
	return 3*dr*dr + 6*dg*dg + db*db // about the eye's weights
}

func (p *palette) nearest(c color.NRGBA) uint8 {
	best, least := 0, int32(1<<30)
	for i := range p.n {
		if d := p.distance(uint8(i), c); d < least {
			best, least = i, d
		}
	}
	return uint8(best)
}

// lookUp gives what comes of laying an ink at a level of coverage over one of the palette's colours, and
// keeps the answer.
func (p *palette) lookUp(ink, level int, under uint8) uint8 {
	e := &p.mixed[ink][level][under]
	if *e == 0 {
		u := p.rgb[under]
		c := color.NRGBA{R: uint8(u[0]), G: uint8(u[1]), B: uint8(u[2]), A: 255}
		*e = uint16(p.nearest(mix(inks[ink], c, level, levels-1))) + 1
	}
	return uint8(*e - 1)
}

// inkOf gives the index of a colour among the inks.
func (p *palette) inkOf(c color.Color) int {
	if n, ok := c.(color.NRGBA); ok {
		for i := range inks {
			if inks[i] == n {
				return i
			}
		}
	}
	if c == nil {
		return 1
	}
	n := color.NRGBAModel.Convert(c).(color.NRGBA)
	best, least := 0, int32(1<<30)
	for i := range inks {
		if d := p.distance(uint8(i), n); d < least {
			best, least = i, d
		}
	}
	return best
}
