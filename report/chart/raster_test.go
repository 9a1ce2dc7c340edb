package chart

import (
	"bytes"
	"image"
	"image/color"
	"image/draw"
	"image/png"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"pgregory.net/rapid"

	"ringheat/analyze/series"
)

// picture draws a chart with a drawer of its own and decodes it.
func picture(t testing.TB, c CycleChart, size Size) *image.Paletted {
	t.Helper()
	var d Drawer
	var buf bytes.Buffer
	if err := d.Cycle(&buf, c, size); err != nil {
		t.Fatal(err)
	}
	img, err := png.Decode(&buf)
	if err != nil {
		t.Fatal(err)
	}
	p, ok := img.(*image.Paletted)
	if !ok {
		t.Fatalf("the picture is a %T, want palette colours", img)
	}
	return p
}

func TestPictureDecodes(t *testing.T) {
	for _, sc := range few() {
		for _, size := range []Size{{}, {600, 400}} {
			p := picture(t, sc.chart, size)
			want, _ := size.orDefault()
			if got := p.Rect.Size(); got.X != want.Width || got.Y != want.Height {
				t.Errorf("%s: size %v, want %v", sc.name, got, want)
			}
			counts := map[color.Color]int{}
			for _, i := range p.Pix {
				counts[p.Palette[i]]++
			}
			total := len(p.Pix)
			if n := counts[color.Color(rgba(white))]; n < total/2 || n > total*99/100 {
				t.Errorf("%s %v: %d of %d pixels are white paper", sc.name, size, n, total)
			}
			for _, l := range []color.NRGBA{blue, orange, vermillion} {
				if n := counts[color.Color(rgba(l))]; n < 20 && sc.name != "empty" && len(sc.chart.Traces) == 2 && sc.name != "unproven-30s" {
					t.Errorf("%s %v: only %d pixels of %v", sc.name, size, n, l)
				}
			}
		}
	}
}

func rgba(c color.NRGBA) color.RGBA { return color.RGBA(c) }

// A picture with the density that a long ramp has stays small enough to be mailed by the dozen.
func TestPictureIsSmall(t *testing.T) {
	for _, sc := range few() {
		if sc.name == "long-texts" {
			continue
		}
		var d Drawer
		var buf bytes.Buffer
		if err := d.Cycle(&buf, sc.chart, Size{}); err != nil {
			t.Fatal(err)
		}
		if buf.Len() > 60_000 {
			t.Errorf("%s: %d bytes, want at most 60000", sc.name, buf.Len())
		}
	}
	var d Drawer
	var buf bytes.Buffer
	if err := d.Cycle(&buf, benchmarkChart(), Size{}); err != nil {
		t.Fatal(err)
	}
	if buf.Len() > 60_000 {
		t.Errorf("three lines of 3000 points: %d bytes, want at most 60000", buf.Len())
	}
}

// A drawer's pictures don't depend on what it drew before.
func TestDrawerForgets(t *testing.T) {
	var used Drawer
	for round := range 2 {
		for i, sc := range few() {
			size := Size{}
			if (i+round)%3 == 1 {
				size = Size{600, 420}
			}
			var fresh Drawer
			var a, b bytes.Buffer
			if err := used.Cycle(&a, sc.chart, size); err != nil {
				t.Fatal(err)
			}
			if err := fresh.Cycle(&b, sc.chart, size); err != nil {
				t.Fatal(err)
			}
			if !bytes.Equal(a.Bytes(), b.Bytes()) {
				t.Errorf("%s: a used drawer gives another picture than a fresh one", sc.name)
			}
		}
	}
}

func TestCycleRefuses(t *testing.T) {
	var d Drawer
	for _, c := range []struct {
		name  string
		chart CycleChart
		size  Size
		want  string
	}{
		{"small", CycleChart{}, Size{100, 80}, "picture of 100 x 80 pixels: want a width of 400 to 8000 and a height of 0.6 to 2 times the width"},
		{"flat", CycleChart{}, Size{1200, 300}, "picture of 1200 x 300 pixels: want a width of 400 to 8000 and a height of 0.6 to 2 times the width"},
		{"lengths", CycleChart{Traces: []Trace{{Name: "bore", TimeS: []float64{1}, C: nil}}}, Size{}, "trace 1 (bore): 1 times for 0 temperatures"},
		{"difference", CycleChart{Diff: &Diff{K: []float64{1}}}, Size{}, "difference: 0 times for 1 values"},
	} {
		var buf bytes.Buffer
		err := d.Cycle(&buf, c.chart, c.size)
		if err == nil || err.Error() != c.want || buf.Len() != 0 {
			t.Errorf("%s: error %v and %d bytes, want %q and none", c.name, err, buf.Len(), c.want)
		}
	}
}

// blocks gives the mean brightness of square blocks of an image.
func blocks(img image.Image, n int) []float64 {
	b := img.Bounds()
	grey := image.NewGray(b)
	draw.Draw(grey, b, img, b.Min, draw.Src)
	w, h := b.Dx()/n, b.Dy()/n
	out := make([]float64, w*h)
	for y := range h * n {
		for x := range w * n {
			out[y/n*w+x/n] += float64(grey.Pix[y*grey.Stride+x]) / float64(n*n)
		}
	}
	return out
}

// mute is a canvas that leaves texts out.
type mute struct{ vg.Canvas }

func (mute) FillString(font.Face, vg.Point, string) {}

// far compares two pictures in blocks of 8 x 8 pixels: the mean difference in brightness, of 255, and
// the number of blocks that differ by more than a quarter of it.
func far(a, b image.Image) (mean float64, blocksApart int) {
	x, y := blocks(a, 8), blocks(b, 8)
	for i := range x {
		d := math.Abs(x[i] - y[i])
		mean += d / float64(len(x))
		if d > 64 {
			blocksApart++
		}
	}
	return mean, blocksApart
}

// The library's own image canvas is the plain twin of ours: the same drawing commands give the same
// picture, but for the smoothing of edges and the ends of dashes. Letters are compared one by one, as the
// library's canvas kerns and ours does not.
func TestRasterAgreesWithTheLibrarysCanvas(t *testing.T) {
	ts := loaded(t)
	size := Size{1200, 800}
	canvases := func() (*raster, *vgimg.Canvas) {
		r := &raster{}
		r.begin(size)
		return r, vgimg.NewWith(vgimg.UseWH(sheetWidth, sheetWidth*2/3), vgimg.UseDPI(144))
	}
	for _, sc := range few() {
		ours, twin := canvases()
		drawCycle(newSheet(mute{ours}, size, ts, &scratch{}), &sc.chart)
		drawCycle(newSheet(mute{twin}, size, ts, &scratch{}), &sc.chart)
		if mean, apart := far(ours.img, twin.Image()); mean > 1.3 || apart > 0 {
			t.Errorf("%s: mean difference %.2f of 255, %d blocks far apart", sc.name, mean, apart)
		} else {
			t.Logf("%s: mean difference %.2f of 255, %d blocks far apart", sc.name, mean, apart)
		}
	}
	for _, sc := range needScenarios() {
		ours, twin := canvases()
		drawNeed(newSheet(mute{ours}, size, ts, &scratch{}), &sc.chart)
		drawNeed(newSheet(mute{twin}, size, ts, &scratch{}), &sc.chart)
		if mean, apart := far(ours.img, twin.Image()); mean > 1.3 || apart > 0 {
			t.Errorf("%s: mean difference %.2f of 255, %d blocks far apart", sc.name, mean, apart)
		}
	}
	ours, twin := canvases()
	for _, c := range []vg.Canvas{ours, twin} {
		s := newSheet(c, size, ts, &scratch{})
		for row := range 18 {
			for col := range 40 {
				letter := string([]rune("AbgQ5%°WαЖñ/@µΩ□")[(row*7+col)%16])
				w, x, y := weight(row%2), 20+14*vg.Length(col), s.h-30-20*vg.Length(row)
				if row%3 == 2 {
					s.uprightText(x, y, []string{letter}, 9)
				} else {
					s.text(x, y, letter, w, 9+vg.Length(row)/2, black, left)
				}
			}
		}
	}
	mean, apart := far(ours.img, twin.Image())
	t.Logf("letters: mean difference %.2f of 255, %d blocks far apart", mean, apart)
	if mean > 1.2 || apart > 0 {
		t.Errorf("letters: mean difference %.2f of 255, %d blocks far apart", mean, apart)
	}
}

// piece is compared with counting which of 12 x 12 points of each pixel lie within the line.
func TestPieceAgainstCounting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		const w, h = 16, 12
		at := func(name string, most float64) float64 { return rapid.Float64Range(-4, most+4).Draw(t, name) }
		a, b := dot{at("ax", w), at("ay", h)}, dot{at("bx", w), at("by", h)}
		switch rapid.IntRange(0, 3).Draw(t, "kind") {
		case 0:
			b.x = a.x
		case 1:
			b.y = a.y
		}
		r := rapid.Float64Range(0.5, 3).Draw(t, "half-width")
		var c coverage
		c.resize(w, h)
		c.piece(a, b, r)
		const n, tolerance = 12, 0.3 // a short line of half-width 0.5 is the worst
		for y := range h {
			for x := range w {
				hit := 0
				for k := range n * n {
					px, py := float64(x)+(float64(k%n)+0.5)/n, float64(y)+(float64(k/n)+0.5)/n
					if distance(dot{px, py}, a, b) <= r {
						hit++
					}
				}
				want, got := float64(hit)/(n*n), float64(c.pix[y*w+x])/255
				if math.Abs(got-want) > tolerance {
					t.Fatalf("pixel %d,%d: covered %.2f, counted %.2f", x, y, got, want)
				}
				if v := c.pix[y*w+x]; v > 0 && (int32(x) < c.low[y] || int32(x) >= c.high[y] || y < c.top || y >= c.end) {
					t.Fatalf("pixel %d,%d is covered but lies outside the rows noted", x, y)
				}
			}
		}
	})
}

func distance(p, a, b dot) float64 {
	dx, dy := b.x-a.x, b.y-a.y
	t := 0.0
	if l := dx*dx + dy*dy; l > 0 {
		t = min(max(((p.x-a.x)*dx+(p.y-a.y)*dy)/l, 0), 1)
	}
	return math.Hypot(p.x-a.x-t*dx, p.y-a.y-t*dy)
}

// The reduced line is compared with the line through every sample.
func TestReducedLineDrawsTheSamePixels(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 4000).Draw(t, "n")
		rough := rapid.Float64Range(0, 30).Draw(t, "rough")
		seed := rapid.Uint64().Draw(t, "seed")
		v, timeS := make([]float64, n), make([]float64, n)
		state := seed | 1
		for i := range v {
			state ^= state << 13
			state ^= state >> 7
			state ^= state << 17
			timeS[i] = float64(i)
			v[i] = 50 + 40*math.Sin(float64(i)/float64(n)*5) + rough*(float64(state>>40)/(1<<24)-0.5)
		}
		x, y := scale{0, float64(n - 1), 20, 120}, scale{-20, 120, 10, 110}
		draw := func(line func(s *sheet)) []uint8 {
			var r raster
			size := Size{1200, 800}
			s := newSheet(r.begin(size), size, nil, &scratch{})
			line(s)
			return r.img.Pix
		}
		l := traceLook(series.Inner, 0)
		reduced := draw(func(s *sheet) { s.trace(x, y, timeS, v, nil, l) })
		all := draw(func(s *sheet) {
			var pts []vg.Point
			for i := range v {
				pts = append(pts, vg.Point{X: x.at(timeS[i]), Y: y.at(v[i])})
			}
			s.polyline(l, pts)
		})
		inked, other := 0, 0
		for i := range all {
			if all[i] != 0 || reduced[i] != 0 {
				inked++
				if (all[i] == 0) != (reduced[i] == 0) {
					other++
				}
			}
		}
		if other > inked/20 {
			t.Fatalf("%d of %d inked pixels differ", other, inked)
		}
	})
}

// Missing samples break the line; a column filled in every second row is a whole line; a spike is passed over.
func TestLineBreaks(t *testing.T) {
	nan := math.NaN()
	for _, c := range []struct {
		name   string
		timeS  []float64
		v      []float64
		spikes []int32
		want   []int // points in each run
	}{
		{"whole", []float64{0, 1, 2, 3}, []float64{1, 2, 3, 4}, nil, []int{4}},
		{"one missing", []float64{0, 1, 2, 3, 4, 5}, []float64{1, 2, nan, 4, 5, 6}, nil, []int{2, 3}},
		{"every second row", []float64{0, 1, 2, 3, 4, 5, 6}, []float64{1, nan, 2, nan, 3, nan, 4}, nil, []int{4}},
		{"spike", []float64{0, 1, 2, 3, 4}, []float64{1, 2, 900, 4, 5}, []int32{2}, []int{4}},
		{"clock gap", []float64{0, 1, 2, 30, 31, 32}, []float64{1, 2, 3, 4, 5, 6}, nil, []int{3, 3}},
		{"clock steps back", []float64{0, 10, 20, 5, 15}, []float64{1, 2, 3, 4, 5}, nil, []int{3, 2}},
		{"infinite", []float64{0, 1, 2, 3, 4}, []float64{1, 2, math.Inf(1), 4, 5}, nil, []int{2, 2}},
		{"nothing", []float64{0, 1}, []float64{nan, nan}, nil, nil},
	} {
		s := newSheet(nil, Size{1200, 800}, nil, &scratch{})
		var got []int
		s.reduce(scale{0, 40, 0, 400}, scale{0, 10, 0, 100}, c.timeS, c.v, c.spikes, func(run []vg.Point) { got = append(got, len(run)) })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: runs of %v points, want %v", c.name, got, c.want)
		}
	}
}

// Readings above the limit are shaded, and only those.
func TestShadingStandsWhereTheLimitIsPassed(t *testing.T) {
	const n = 601
	var timeS, c []float64
	for i := range n {
		timeS = append(timeS, float64(i))
		c = append(c, 20+130*math.Sin(math.Pi*float64(i)/(n-1))) // above 120 from 168 s to 432 s
	}
	chart := CycleChart{
		Traces: []Trace{{Name: "bore", Role: series.Inner, TimeS: timeS, C: c}},
		Levels: []Level{{Kind: ToleranceLimit, C: 120, Label: "limit"}},
	}
	p := picture(t, chart, Size{})
	r, _, panels := record(loaded(t), &chart, Size{1200, 800})
	_ = r
	x := panels[0].x
	first, last := 1<<30, -1
	for i, v := range p.Pix {
		px, py := i%p.Stride, i/p.Stride
		if p.Palette[v] == color.Color(rgba(overPale)) && py > 400 {
			first, last = min(first, px), max(last, px)
		}
	}
	second := func(px int) float64 { return x.lo + (float64(px)/2-float64(x.from))/float64(x.to-x.from)*(x.hi-x.lo) }
	from, to := 600/math.Pi*math.Asin(100.0/130), 600-600/math.Pi*math.Asin(100.0/130)
	if math.Abs(second(first)-from) > 2 || math.Abs(second(last)-to) > 2 {
		t.Errorf("shaded from %.1f to %.1f s, want %.1f to %.1f", second(first), second(last), from, to)
	}
	chart.Levels[0].C = 151
	for _, v := range picture(t, chart, Size{}).Pix {
		if c := p.Palette[v]; c == color.Color(rgba(overPale)) || c == color.Color(rgba(overTint)) {
			t.Fatal("something is shaded though no reading is above the limit")
		}
	}
}

// Whatever is asked for, a picture comes out, of the size that was asked for.
func TestAnyCycleIsDrawn(t *testing.T) {
	var d Drawer
	rapid.Check(t, func(t *rapid.T) {
		c := anyCycle(t)
		size := Size{600, rapid.IntRange(360, 700).Draw(t, "height")}
		var buf bytes.Buffer
		if err := d.Cycle(&buf, c, size); err != nil {
			t.Fatal(err)
		}
		got, err := png.DecodeConfig(&buf)
		if err != nil || got.Width != size.Width || got.Height != size.Height {
			t.Fatalf("%d x %d, %v; want %v", got.Width, got.Height, err, size)
		}
	})
}
