package chart

import (
	"image"
	"image/draw"
	"math"

	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

const drawSrc = draw.Src

type sfntBuffer = sfnt.Buffer

// glyphKey names a letter as it is drawn: its font, size in pixels, half of a pixel that it starts in, and
// whether the line is turned upwards.
type glyphKey struct {
	face    *opentype.Font
	letter  rune
	size    float32
	sub     uint8
	quarter uint8
}

// glyph is a letter's coverage; mask is nil for a blank.
type glyph struct {
	mask      *image.Alpha
	left, top int     // of the mask's corner from the origin
	advance   float64 // pixels
}

func (r *raster) glyph(k glyphKey) *glyph {
	if g, ok := r.glyphs[k]; ok {
		return g
	}
	g := r.cutGlyph(k)
	r.glyphs[k] = g
	return g
}

// cutGlyph draws a letter from its outline. A letter that can't be loaded is a blank without width; the
// texts are cleaned of such before they are set.
func (r *raster) cutGlyph(k glyphKey) *glyph {
	g := &glyph{}
	index, err := k.face.GlyphIndex(&r.letters, k.letter)
	if err != nil {
		return g
	}
	if a, err := k.face.GlyphAdvance(&r.letters, index, fixed.I(unitsPerEm), xfont.HintingNone); err == nil {
		g.advance = float64(a) / 64 / unitsPerEm * float64(k.size)
	}
	outline, err := k.face.LoadGlyph(&r.letters, index, pixelsOf(float64(k.size)), nil)
	if err != nil || len(outline) == 0 {
		return g
	}
	shift := float64(k.sub)/2 + 1.0/4
	place := func(p fixed.Point26_6) (x, y float64) {
		x, y = float64(p.X)/64+shift, float64(p.Y)/64
		if k.quarter == 1 {
			x, y = y, -x
		}
		return x, y
	}
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, s := range outline {
		for _, a := range s.Args[:argCount(s.Op)] {
			x, y := place(a)
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
		}
	}
	left, top := math.Floor(x0), math.Floor(y0)
	w, h := int(math.Ceil(x1)-left), int(math.Ceil(y1)-top)
	if w <= 0 || h <= 0 {
		return g
	}
	at := func(p fixed.Point26_6) (float32, float32) {
		x, y := place(p)
		return float32(x - left), float32(y - top)
	}
	r.shapes.Reset(w, h)
	for _, s := range outline {
		ax, ay := at(s.Args[0])
		switch s.Op {
		case sfnt.SegmentOpMoveTo:
			r.shapes.ClosePath()
			r.shapes.MoveTo(ax, ay)
		case sfnt.SegmentOpLineTo:
			r.shapes.LineTo(ax, ay)
		case sfnt.SegmentOpQuadTo:
			bx, by := at(s.Args[1])
			r.shapes.QuadTo(ax, ay, bx, by)
		case sfnt.SegmentOpCubeTo:
			bx, by := at(s.Args[1])
			cx, cy := at(s.Args[2])
			r.shapes.CubeTo(ax, ay, bx, by, cx, cy)
		}
	}
	r.shapes.ClosePath()
	cut := r.cut(w, h)
	g.mask = &image.Alpha{Pix: append([]uint8(nil), cut.Pix...), Stride: w, Rect: image.Rect(0, 0, w, h)}
	g.left, g.top = int(left), int(top)
	return g
}

func argCount(op sfnt.SegmentOp) int {
	switch op {
	case sfnt.SegmentOpQuadTo:
		return 2
	case sfnt.SegmentOpCubeTo:
		return 3
	}
	return 1
}
