package chart

import (
	"image/color"

	"gonum.org/v1/plot/vg"

	"ringheat/analyze/series"
)

// The Okabe-Ito colours (Okabe and Ito, Color Universal Design, 2008; public), told apart by readers with
// any of the common colour vision deficiencies. The comment is the grey that a printer makes of it, 0 to 255.
var (
	black      = color.NRGBA{A: 255}
	white      = color.NRGBA{R: 255, G: 255, B: 255, A: 255}
	blue       = color.NRGBA{R: 0x00, G: 0x72, B: 0xB2, A: 255} // 87
	orange     = color.NRGBA{R: 0xE6, G: 0x9F, B: 0x00, A: 255} // 162
	green      = color.NRGBA{R: 0x00, G: 0x9E, B: 0x73, A: 255} // 106
	sky        = color.NRGBA{R: 0x56, G: 0xB4, B: 0xE9, A: 255} // 158
	vermillion = color.NRGBA{R: 0xD5, G: 0x5E, B: 0x00, A: 255} // 119
	purple     = color.NRGBA{R: 0xCC, G: 0x79, B: 0xA7, A: 255} // 151

	ink      = color.NRGBA{R: 0x1A, G: 0x1A, B: 0x1A, A: 255} // text
	axisGrey = color.NRGBA{R: 0x55, G: 0x55, B: 0x55, A: 255}
	gridGrey = color.NRGBA{R: 0xE4, G: 0xE4, B: 0xE4, A: 255}
	bandBlue = color.NRGBA{R: 0xCC, G: 0xE3, B: 0xF0, A: 255} // blue, thinned
	bandGrey = color.NRGBA{R: 0xF2, G: 0xF2, B: 0xF2, A: 255}

	overTint   = color.NRGBA{R: 0xF6, G: 0xD3, B: 0xBC, A: 255} // vermillion, thinned
	overPale   = color.NRGBA{R: 0xFB, G: 0xEE, B: 0xE5, A: 255} // the whole height of the panel meanwhile
	unevenPale = color.NRGBA{R: 0xF7, G: 0xED, B: 0xF3, A: 255}
	unevenTint = color.NRGBA{R: 0xEE, G: 0xD3, B: 0xE2, A: 255} // purple, thinned
)

// marker is a small shape that names a trace in grey.
type marker uint8

const (
	noMarker marker = iota
	disc
	square // hollow
	triangle
	diamond
	cross
	ring      // hollow disc
	block     // full square
	downwards // triangle on its tip
	plus
)

// look is how a line is drawn. The zero dash is a whole line.
type look struct {
	colour color.NRGBA
	width  vg.Length
	dash   []vg.Length
	mark   marker
}

var (
	dashLimit  = []vg.Length{11, 4}
	dashAccept = []vg.Length{2, 3}
	dashNeed   = []vg.Length{9, 3, 2, 3}
	dashSet    = []vg.Length{1, 4}
	dashInner  = []vg.Length{7, 4}
	dashOuter  = []vg.Length{2.5, 3}
	dashMoment = []vg.Length{1.5, 2.5}
)

// traceLook is how the nth trace of a role is drawn, counted from 0. Several probes of one role keep its
// width, and differ in colour and marker.
func traceLook(r series.Role, nth int) look {
	var l look
	switch r {
	case series.Inner:
		l = look{colour: blue, width: 1.4, mark: disc}
	case series.Outer:
		l = look{colour: orange, width: 2.6, mark: square}
	case series.Ambient:
		return look{colour: green, width: 1, mark: triangle}
	case series.Shaft:
		return look{colour: sky, width: 1.2, mark: diamond}
	case series.SetPoint:
		return look{colour: axisGrey, width: 0.8, dash: dashSet}
	default:
		spare := [...]look{
			{colour: blue, width: 1.4, mark: disc},
			{colour: orange, width: 2.6, mark: square},
			{colour: purple, width: 1.4, mark: triangle},
			{colour: sky, width: 1.4, mark: diamond},
		}
		return spare[nth%len(spare)]
	}
	if nth > 0 && r == series.Inner {
		l.colour, l.mark = sky, [...]marker{ring, downwards}[(nth-1)%2]
	} else if nth > 0 {
		l.colour, l.mark = purple, [...]marker{block, plus}[(nth-1)%2]
	}
	return l
}

func curveLook(r series.Role) look {
	if r == series.Outer {
		return look{colour: black, width: 0.8, dash: dashOuter}
	}
	return look{colour: black, width: 0.8, dash: dashInner}
}

func levelLook(k LevelKind) look {
	switch k {
	case AcceptanceLimit:
		return look{colour: vermillion, width: 0.9, dash: dashAccept}
	case NeededTemp:
		return look{colour: green, width: 1.2, dash: dashNeed}
	case SetPointLevel:
		return look{colour: axisGrey, width: 0.8, dash: dashSet}
	}
	return look{colour: vermillion, width: 1.4, dash: dashLimit}
}
