package chart

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/png"
	"io"
	"math"

	"golang.org/x/image/math/fixed"
	"golang.org/x/image/vector"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// raster is a vg.Canvas that draws into an image of palette colours, and packs it as a PNG. It knows what the
// pictures need and no more: quarter turns, no scaling, no images within images. The zero value is ready
// for begin; everything is reused from picture to picture.
type raster struct {
	img     *image.Paletted
	palette *palette
	dots    float64 // pixels a point
	now     pen
	stack   []pen

	cover   coverage
	shapes  vector.Rasterizer
	shape   image.Alpha
	glyphs  map[glyphKey]*glyph
	letters sfntBuffer

	packed bytes.Buffer
	packer png.Encoder
}

// pen is the state that Push keeps.
type pen struct {
	xx, xy, yx, yy, dx, dy float64 // sheet points to pixels, y down
	width                  vg.Length
	dash                   []vg.Length
	ink                    int
}

// begin starts an empty picture.
func (r *raster) begin(size Size) vg.Canvas {
	if r.palette == nil {
		r.palette = newPalette()
		r.glyphs = make(map[glyphKey]*glyph, 256)
		r.packer = png.Encoder{CompressionLevel: png.BestSpeed, BufferPool: &onePacker{}}
	}
	if r.img == nil || r.img.Rect.Dx() != size.Width || r.img.Rect.Dy() != size.Height {
		r.img = image.NewPaletted(image.Rect(0, 0, size.Width, size.Height), r.palette.colours)
		r.cover.resize(size.Width, size.Height)
		clear(r.glyphs)
	} else {
		clear(r.img.Pix) // index 0 is white
	}
	r.dots = float64(size.Width) / float64(sheetWidth)
	r.stack = r.stack[:0]
	r.now = pen{xx: r.dots, yy: -r.dots, dy: float64(size.Height), width: 1, ink: 1}
	return r
}

// onePacker keeps the PNG packer's buffers for the next picture.
type onePacker struct{ kept *png.EncoderBuffer }

func (p *onePacker) Get() *png.EncoderBuffer  { return p.kept }
func (p *onePacker) Put(b *png.EncoderBuffer) { p.kept = b }

// encode writes the picture as a PNG with its size in print: 600 points for its width.
func (r *raster) encode(w io.Writer) error {
	r.packed.Reset()
	if err := r.packer.Encode(&r.packed, r.img); err != nil {
		return err
	}
	// The encoder leaves out the chunk that tells a printer the size (pHYs, PNG specification 11.3.4.3). It stands
	// right after the header, which takes 8 + 25 bytes.
	const header = 33
	perMetre := uint32(math.Round(r.dots * 72 / 0.0254))
	var size [21]byte
	binary.BigEndian.PutUint32(size[0:], 9)
	copy(size[4:], "pHYs")
	binary.BigEndian.PutUint32(size[8:], perMetre)
	binary.BigEndian.PutUint32(size[12:], perMetre)
	size[16] = 1
	binary.BigEndian.PutUint32(size[17:], crc32.ChecksumIEEE(size[4:17]))
	all := r.packed.Bytes()
	for _, part := range [...][]byte{all[:header], size[:], all[header:]} {
		if _, err := w.Write(part); err != nil {
			return err
		}
	}
	return nil
}

func (r *raster) SetLineWidth(w vg.Length)               { r.now.width = w }
func (r *raster) SetLineDash(d []vg.Length, _ vg.Length) { r.now.dash = d }
func (r *raster) SetColor(c color.Color)                 { r.now.ink = r.palette.inkOf(c) }
func (r *raster) Push()                                  { r.stack = append(r.stack, r.now) }
func (r *raster) Pop() {
	r.now = r.stack[len(r.stack)-1]
	r.stack = r.stack[:len(r.stack)-1]
}

func (r *raster) Translate(p vg.Point) { r.now.dx, r.now.dy = r.now.apply(p) }

func (r *raster) Rotate(rad float64) {
	s, c := math.Sincos(rad)
	n := &r.now
	n.xx, n.xy, n.yx, n.yy = n.xx*c+n.xy*s, n.xy*c-n.xx*s, n.yx*c+n.yy*s, n.yy*c-n.yx*s
}

func (r *raster) Scale(x, y float64) { panic("chart: the canvas of the pictures does not scale") }

func (r *raster) DrawImage(vg.Rectangle, image.Image) {
	panic("chart: the canvas of the pictures does not draw images")
}

func (p *pen) apply(q vg.Point) (x, y float64) {
	return p.xx*float64(q.X) + p.xy*float64(q.Y) + p.dx, p.yx*float64(q.X) + p.yy*float64(q.Y) + p.dy
}

// dot is a place in pixels.
type dot struct{ x, y float64 }

// flatten turns a path into straight pieces, calling move and line in turn.
func (r *raster) flatten(p vg.Path, move, line func(dot)) {
	var start, cur dot
	for _, c := range p {
		switch c.Type {
		case vg.MoveComp:
			x, y := r.now.apply(c.Pos)
			start, cur = dot{x, y}, dot{x, y}
			move(cur)
		case vg.LineComp:
			x, y := r.now.apply(c.Pos)
			cur = dot{x, y}
			line(cur)
		case vg.ArcComp:
			n := max(8, int(float64(c.Radius)*r.dots*math.Abs(c.Angle)))
			for i := 1; i <= n; i++ {
				s, co := math.Sincos(c.Start + c.Angle*float64(i)/float64(n))
				x, y := r.now.apply(vg.Point{X: c.Pos.X + c.Radius*vg.Length(co), Y: c.Pos.Y + c.Radius*vg.Length(s)})
				cur = dot{x, y}
				line(cur)
			}
		case vg.CloseComp:
			cur = start
			line(cur)
		default:
			panic("chart: the canvas of the pictures draws no curves")
		}
	}
}

// Fill paints the inside of a path. A path of one upright rectangle is snapped to whole pixels.
func (r *raster) Fill(p vg.Path) {
	lo, hi := dot{math.Inf(1), math.Inf(1)}, dot{math.Inf(-1), math.Inf(-1)}
	grow := func(d dot) {
		lo = dot{min(lo.x, d.x), min(lo.y, d.y)}
		hi = dot{max(hi.x, d.x), max(hi.y, d.y)}
	}
	r.flatten(p, grow, grow)
	if isRectangle(p) {
		r.fillRectangle(int(math.Round(lo.x)), int(math.Round(lo.y)), int(math.Round(hi.x)), int(math.Round(hi.y)))
		return
	}
	x0, y0 := int(math.Floor(max(lo.x, 0))), int(math.Floor(max(lo.y, 0)))
	x1, y1 := int(math.Ceil(min(hi.x, float64(r.img.Rect.Max.X)))), int(math.Ceil(min(hi.y, float64(r.img.Rect.Max.Y))))
	if x1 <= x0 || y1 <= y0 {
		return
	}
	r.shapes.Reset(x1-x0, y1-y0)
	ox, oy := float64(x0), float64(y0)
	r.flatten(p,
		func(d dot) { r.shapes.MoveTo(float32(d.x-ox), float32(d.y-oy)) },
		func(d dot) { r.shapes.LineTo(float32(d.x-ox), float32(d.y-oy)) })
	r.shapes.ClosePath()
	r.blend(r.cut(x1-x0, y1-y0), x0, y0)
}

// cut gives the coverage of the shape that stands in r.shapes.
func (r *raster) cut(w, h int) *image.Alpha {
	if cap(r.shape.Pix) < w*h {
		r.shape.Pix = make([]uint8, w*h)
	}
	r.shape = image.Alpha{Pix: r.shape.Pix[:w*h], Stride: w, Rect: image.Rect(0, 0, w, h)}
	r.shapes.DrawOp = drawSrc
	r.shapes.Draw(&r.shape, r.shape.Rect, image.Opaque, image.Point{})
	return &r.shape
}

// blend lays the pen's ink over the image where a mask, set with its corner at (x0, y0), covers it.
func (r *raster) blend(mask *image.Alpha, x0, y0 int) {
	b := r.img.Rect
	for y := range mask.Rect.Dy() {
		if y0+y < 0 || y0+y >= b.Max.Y {
			continue
		}
		row := mask.Pix[y*mask.Stride:][:mask.Rect.Dx()]
		out := r.img.Pix[(y0+y)*r.img.Stride:][:b.Max.X]
		for x, c := range row {
			if c == 0 || x0+x < 0 || x0+x >= len(out) {
				continue
			}
			r.lay(&out[x0+x], c)
		}
	}
}

// lay puts the pen's ink over one pixel, with coverage c of 255.
func (r *raster) lay(under *uint8, c uint8) {
	level := (int(c)*(levels-1) + 127) / 255
	if level == 0 {
		return
	}
	if e := r.palette.mixed[r.now.ink][level][*under]; e != 0 {
		*under = uint8(e - 1)
		return
	}
	*under = r.palette.lookUp(r.now.ink, level, *under)
}

// isRectangle says whether a path is four straight sides along the axes.
func isRectangle(p vg.Path) bool {
	if len(p) != 5 || p[4].Type != vg.CloseComp {
		return false
	}
	for i := range 4 {
		a, b := p[i], p[(i+1)%4]
		if a.Type != vg.LineComp && i > 0 || (a.Pos.X != b.Pos.X) == (a.Pos.Y != b.Pos.Y) {
			return false
		}
	}
	return true
}

func (r *raster) fillRectangle(x0, y0, x1, y1 int) {
	b := r.img.Rect
	x0, y0, x1, y1 = max(x0, 0), max(y0, 0), min(max(x1, x0+1), b.Max.X), min(max(y1, y0+1), b.Max.Y)
	for y := y0; y < y1; y++ {
		row := r.img.Pix[y*r.img.Stride+x0 : y*r.img.Stride+max(x0, x1)]
		for i := range row {
			row[i] = uint8(r.now.ink)
		}
	}
}

// FillString sets a text. Letters stand at halves of a pixel along the line, on a whole pixel across it,
// without kerning, which is how typesetter measures them.
func (r *raster) FillString(f font.Face, pt vg.Point, text string) {
	x, y := r.now.apply(pt)
	quarter := 0
	if math.Abs(r.now.xx) < math.Abs(r.now.yx) { // turned: along the line is upwards
		quarter = 1
		x = math.Round(x)
	} else {
		y = math.Round(y)
	}
	size := float64(f.Font.Size) * r.dots
	for _, c := range text {
		var along float64
		if quarter == 0 {
			along = x
		} else {
			along = -y
		}
		whole := math.Floor(along)
		sub := uint8((along - whole) * 2)
		g := r.glyph(glyphKey{f.Face, c, float32(size), sub, uint8(quarter)})
		if g.mask != nil {
			if quarter == 0 {
				r.blend(g.mask, int(whole)+g.left, int(y)+g.top)
			} else {
				r.blend(g.mask, int(x)+g.left, -int(whole)+g.top)
			}
		}
		if quarter == 0 {
			x += g.advance
		} else {
			y -= g.advance
		}
	}
}

// pixelsOf turns a size in pixels into the fixed-point number that the font library wants.
func pixelsOf(size float64) fixed.Int26_6 { return fixed.Int26_6(math.Round(size * 64)) }
