package chart

import (
	"image"
	"image/png"
	"io"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
)

// raster turns drawing commands into a PNG.
type raster struct {
	img *image.RGBA
	c   *vgimg.Canvas
}

func (r *raster) begin(size Size) vg.Canvas {
	dpi := int(float64(size.Width) / float64(sheetWidth) * 72)
	w := vg.Length(size.Width) / vg.Length(dpi) * vg.Inch
	h := vg.Length(size.Height) / vg.Length(dpi) * vg.Inch
	r.c = vgimg.NewWith(vgimg.UseWH(w, h), vgimg.UseDPI(dpi))
	return r.c
}

func (r *raster) encode(w io.Writer) error {
	enc := png.Encoder{CompressionLevel: png.BestSpeed}
	return enc.Encode(w, r.c.Image())
}
