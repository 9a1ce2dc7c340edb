package chart

import (
	"fmt"
	"image/color"
	"math"
	"slices"
	"testing"

	"ringheat/analyze/series"
)

func TestColoursAreOkabeIto(t *testing.T) {
	const source = "Okabe and Ito, Color Universal Design, 2008: the set of eight (from memory)"
	for _, c := range []struct {
		name string
		got  color.NRGBA
		want string
	}{
		{"black", black, "000000"},
		{"orange", orange, "E69F00"},
		{"sky blue", sky, "56B4E9"},
		{"bluish green", green, "009E73"},
		{"blue", blue, "0072B2"},
		{"vermillion", vermillion, "D55E00"},
		{"reddish purple", purple, "CC79A7"},
	} {
		if got := fmt.Sprintf("%02X%02X%02X", c.got.R, c.got.G, c.got.B); got != c.want {
			t.Errorf("%s is %s, want %s (%s)", c.name, got, c.want, source)
		}
	}
}

// grey is what a printer without colour makes of a colour, 0 to 255 (ITU-R BT.601 luma).
func grey(c color.NRGBA) float64 {
	return 0.299*float64(c.R) + 0.587*float64(c.G) + 0.114*float64(c.B)
}

// Lines that share a panel are told apart without colour: by clearly different greys, dashes or markers.
func TestLinesAreToldApartInGrey(t *testing.T) {
	looks := map[string]look{}
	for _, r := range []series.Role{series.Inner, series.Outer, series.Ambient, series.Shaft, series.SetPoint} {
		looks["trace "+r.String()] = traceLook(r, 0)
	}
	looks["second inner"], looks["second outer"] = traceLook(series.Inner, 1), traceLook(series.Outer, 1)
	looks["third inner"], looks["third outer"] = traceLook(series.Inner, 2), traceLook(series.Outer, 2)
	looks["curve inner"], looks["curve outer"] = curveLook(series.Inner), curveLook(series.Outer)
	for _, k := range []LevelKind{ToleranceLimit, AcceptanceLimit, NeededTemp} {
		looks[fmt.Sprint("level ", k)] = levelLook(k)
	}
	for a, la := range looks {
		for b, lb := range looks {
			if a != b && la.mark == lb.mark && slices.Equal(la.dash, lb.dash) && math.Abs(grey(la.colour)-grey(lb.colour)) < 40 {
				t.Errorf("%s and %s look alike in grey", a, b)
			}
		}
	}
	if d := grey(orange) - grey(blue); d < 60 {
		t.Errorf("the two rings differ by %.0f of 255 in grey", d)
	}
	for _, c := range []color.NRGBA{overPale, overTint, unevenPale, unevenTint} {
		if g := grey(c); g > 244 || g < 200 {
			t.Errorf("shading %v is %.0f in grey: want it seen on white, and lines seen on it", c, g)
		}
	}
}
