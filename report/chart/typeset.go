package chart

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/unicode/norm"
	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// weight chooses one of the two faces that the pictures use.
type weight uint8

const (
	regular weight = iota
	bold
)

// unitsPerEm is the size at which advances are read and kept.
const unitsPerEm = 2048

// maxRunes is the most of one text that is looked at; a longer one is cut with an ellipsis.
const maxRunes = 1200

// noGlyph stands for a letter that the font has no shape for.
const noGlyph = '\u25a1' // white square

// typesetter measures and breaks text. The zero value loads its fonts when first asked to.
type typesetter struct {
	fonts   [2]*opentype.Font
	advance [2]map[rune]float32 // in ems; negative: the font has no such glyph
	buf     sfnt.Buffer
}

func (t *typesetter) load() error {
	if t.fonts[regular] != nil {
		return nil
	}
	for w, ttf := range [...][]byte{regular: liberationsansregular.TTF, bold: liberationsansbold.TTF} {
		f, err := opentype.Parse(ttf)
		if err != nil {
			return fmt.Errorf("font of the pictures: %w", err)
		}
		t.fonts[w] = f
		t.advance[w] = make(map[rune]float32, 128)
	}
	return nil
}

func (t *typesetter) face(w weight, size vg.Length) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Size: size}
	if w == bold {
		f.Weight = xfont.WeightBold
	}
	return font.Face{Font: f, Face: t.fonts[w]}
}

// em gives a letter's advance in ems, negative if the font lacks it.
func (t *typesetter) em(r rune, w weight) float32 {
	if a, ok := t.advance[w][r]; ok {
		return a
	}
	a := float32(-1)
	if g, err := t.fonts[w].GlyphIndex(&t.buf, r); err == nil && g != 0 {
		if adv, err := t.fonts[w].GlyphAdvance(&t.buf, g, fixed.I(unitsPerEm), xfont.HintingNone); err == nil {
			a = float32(adv) / 64 / unitsPerEm
		}
	}
	t.advance[w][r] = a
	return a
}

// width of a cleaned text in one line.
func (t *typesetter) width(s string, w weight, size vg.Length) vg.Length {
	sum := float32(0)
	for _, r := range s {
		sum += max(t.em(r, w), 0)
	}
	return vg.Length(sum) * size
}

// clean makes any text drawable in one line: composed letters, every run of blanks and control
// characters one space, marks that steer direction or join letters left out, letters without
// a glyph shown as a hollow square.
func (t *typesetter) clean(s string, w weight) string {
	if len(s) > 4*maxRunes {
		s = strings.ToValidUTF8(s[:4*maxRunes], "") + "…"
	}
	s = norm.NFC.String(s)
	var b strings.Builder
	n, blank := 0, true
	for _, r := range s {
		switch {
		case unicode.Is(unicode.Cf, r): // direction marks, joiners, soft hyphens
			continue
		case unicode.IsSpace(r) || unicode.IsControl(r):
			if !blank {
				b.WriteByte(' ')
				n++
			}
			blank = true
			continue
		}
		if n >= maxRunes {
			b.WriteRune('…')
			break
		}
		if t.em(r, w) < 0 {
			if unicode.Is(unicode.M, r) { // a mark without its own glyph
				continue
			}
			r = noGlyph
		}
		b.WriteRune(r)
		n, blank = n+1, false
	}
	return strings.TrimRight(b.String(), " ")
}

// cut shortens a cleaned text to a width, with an ellipsis if anything is lost.
func (t *typesetter) cut(s string, w weight, size, room vg.Length) string {
	if t.width(s, w, size) <= room {
		return s
	}
	const dots = "…"
	left := room - t.width(dots, w, size)
	for i, r := range s {
		left -= vg.Length(max(t.em(r, w), 0)) * size
		if left < 0 {
			return strings.TrimRight(s[:i], " ") + dots
		}
	}
	return s
}

// wrap breaks a text into lines no wider than room, at most `most` of them; what does not fit ends in an
// ellipsis. A word wider than a line is broken anywhere. An empty text has no lines.
func (t *typesetter) wrap(s string, w weight, size, room vg.Length, most int) []string {
	s = t.clean(s, w)
	var lines []string
	for s != "" && most > 0 {
		if t.width(s, w, size) <= room {
			return append(lines, s)
		}
		if len(lines) == most-1 {
			return append(lines, t.cut(s, w, size, room))
		}
		end, space := 0, -1
		used := vg.Length(0)
		for i, r := range s {
			used += vg.Length(max(t.em(r, w), 0)) * size
			if r == ' ' {
				space = i
				continue // a blank may hang over the edge
			}
			if used > room && i > 0 {
				end = i
				break
			}
		}
		switch {
		case space > 0 && space < end:
			end = space
		case end == 0: // one letter wider than the line
			_, end = utf8.DecodeRuneInString(s)
		}
		lines = append(lines, strings.TrimRight(s[:end], " "))
		s = strings.TrimLeft(s[end:], " ")
	}
	return lines
}

// balanced breaks a text into one line, or two of about the same length.
func (t *typesetter) balanced(s string, w weight, size, room vg.Length) []string {
	s = t.clean(s, w)
	full := t.width(s, w, size)
	if full <= room {
		return []string{s}
	}
	for share := vg.Length(0.5); share < 1; share += 0.1 {
		if lines := t.wrap(s, w, size, min(full*share, room), 3); len(lines) <= 2 {
			return lines
		}
	}
	return t.wrap(s, w, size, room, 2)
}
