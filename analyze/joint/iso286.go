package joint

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"
)

// Deviations are the limit deviations of a size from its nominal, µm: "upper" and "lower" as ISO 286-1 calls them
// (es, ei for shafts, ES, EI for holes).
type Deviations struct {
	UpperUM, LowerUM float64
	Origin           Origin
}

// Smallest and largest nominal size of the ISO 286 tables kept here, mm (over the first, up to the second).
const (
	SmallestMM = 1.0
	LargestMM  = 800.0
)

type toleranceCell struct {
	grade int
	sizes sizeRange
	um    float64
	from  Origin
}

type deviationCell struct {
	letter string // "g", or "j5" where the value belongs to one grade alone
	sizes  sizeRange
	upper  bool // es; else ei
	um     float64
	from   Origin
}

var toleranceTable = sync.OnceValue(func() []toleranceCell {
	var t []toleranceCell
	readTable("iso286_it_grades.csv", []string{"grade", "over_mm", "incl_mm", "tolerance_um", "source", "confidence"}, func(c cells) {
		grade, err := strconv.Atoi(strings.TrimPrefix(c.text("grade"), "IT"))
		if err != nil {
			panic(err)
		}
		t = append(t, toleranceCell{grade, c.sizes(), c.number("tolerance_um"), c.origin()})
	})
	return t
})

var deviationTable = sync.OnceValue(func() []deviationCell {
	var t []deviationCell
	readTable("iso286_shaft_deviations.csv", []string{"letter", "over_mm", "incl_mm", "deviation", "um", "source", "confidence"}, func(c cells) {
		t = append(t, deviationCell{c.text("letter"), c.sizes(), c.text("deviation") == "es", c.number("um"), c.origin()})
	})
	return t
})

func checkNominal(nominalMM float64) error {
	if !(nominalMM > SmallestMM && nominalMM <= LargestMM) {
		return fmt.Errorf("nominal size %s mm lies outside the tables (over %g to %g mm): give the measured sizes or the interference instead",
			plain(nominalMM), SmallestMM, LargestMM)
	}
	return nil
}

// ITGrade is the standard tolerance of a grade (4 to 9) at a nominal size in mm, µm (ISO 286-1:2010 table 1).
func ITGrade(nominalMM float64, grade int) (toleranceUM float64, from Origin, err error) {
	if err := checkNominal(nominalMM); err != nil {
		return 0, Origin{}, err
	}
	for _, c := range toleranceTable() {
		if c.grade == grade && c.sizes.holds(nominalMM) {
			return c.um, c.from, nil
		}
	}
	return 0, Origin{}, fmt.Errorf("tolerance grade IT%d is not in the tables (IT4 to IT9): give the measured sizes or the interference instead", grade)
}

// ShaftClasses lists the letters of the shaft tolerance classes known here, with grades 4 to 9; j has 5 and 6 only, up to
// 500 mm, and k up to 500 mm has 4 to 7.
const ShaftClasses = "g h j js k m n p r s"

// splitClass takes "m6" apart.
func splitClass(class string) (letters string, grade int, ok bool) {
	i := strings.IndexAny(class, "0123456789")
	if i <= 0 {
		return "", 0, false
	}
	grade, err := strconv.Atoi(class[i:])
	return class[:i], grade, err == nil && class[i] != '0'
}

// Shaft gives the limit deviations of a shaft tolerance class such as "m6" at a nominal diameter in mm: the
// fundamental deviation of ISO 286-1:2010 tables 4 and 5 and the standard tolerance of table 1. Letters are
// lower case, since upper case means a hole. js is plus and minus half the tolerance, not rounded.
func Shaft(nominalMM float64, class string) (Deviations, error) {
	letter, grade, ok := splitClass(strings.TrimSpace(class))
	if ok && letter == strings.ToUpper(letter) {
		return Deviations{}, fmt.Errorf("shaft class %q: capital letters name a hole; write %s for the shaft", class, strings.ToLower(class))
	}
	if !ok || !contains(strings.Fields(ShaftClasses), letter) {
		return Deviations{}, fmt.Errorf("shaft class %q is not in the tables (letters %s with a grade, such as m6): give the measured shaft or the interference instead", class, ShaftClasses)
	}
	it, from, err := ITGrade(nominalMM, grade)
	if err != nil {
		return Deviations{}, fmt.Errorf("shaft class %q: %w", class, err)
	}
	d := Deviations{Origin: from}
	switch letter {
	case "h":
		d.LowerUM = -it
		return d, nil
	case "js":
		d.UpperUM, d.LowerUM = it/2, -it/2
		return d, nil
	case "k":
		if grade > 7 && nominalMM <= 500 {
			return Deviations{}, fmt.Errorf("shaft class %q: k is kept here in grades 4 to 7: give the measured shaft or the interference instead", class)
		}
	}
	for _, c := range deviationTable() {
		if (c.letter == letter || c.letter == letter+strconv.Itoa(grade)) && c.sizes.holds(nominalMM) {
			if c.upper {
				d.UpperUM, d.LowerUM = c.um, c.um-it
			} else {
				d.UpperUM, d.LowerUM = c.um+it, c.um
			}
			d.Origin = Origin{c.from.Source + "; " + from.Source, weakest(c.from.Confidence, from.Confidence)}
			if c.from.Source == from.Source {
				d.Origin.Source = from.Source
			}
			return d, nil
		}
	}
	return Deviations{}, fmt.Errorf("shaft class %q has no value at %s mm in the tables: give the measured shaft or the interference instead", class, plain(nominalMM))
}

// Hole gives the limit deviations of a hole tolerance class H4 to H9 at a nominal diameter in mm (ISO 286-1:2010
// table 1: the lower deviation of H is 0).
func Hole(nominalMM float64, class string) (Deviations, error) {
	letter, grade, ok := splitClass(strings.TrimSpace(class))
	if !ok || letter != "H" {
		return Deviations{}, fmt.Errorf("hole class %q is not in the tables (H4 to H9): give the measured bore or the interference instead", class)
	}
	it, from, err := ITGrade(nominalMM, grade)
	if err != nil {
		return Deviations{}, fmt.Errorf("hole class %q: %w", class, err)
	}
	return Deviations{UpperUM: it, Origin: from}, nil
}

func contains(list []string, s string) bool {
	for _, v := range list {
		if v == s {
			return true
		}
	}
	return false
}

// plain writes a number with no more digits than it has, "no number" for one that is none.
func plain(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "no number"
	}
	return strconv.FormatFloat(v, 'f', -1, 64)
}
