package joint

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"sync"

	"ringheat/analyze/quantity"
)

// ReferenceC is the reference temperature of sizes (ISO 1): sizes and interferences are those at 20 °C.
const ReferenceC quantity.Celsius = 20

// Law is how a material's length follows its temperature.
type Law uint8

// The laws. Linear: one mean coefficient. Eurocode: the relative elongation of carbon steel of EN 1993-1-2:2005
// 3.4.1.1, 20 to 750 °C; below 20 °C it says nothing.
const (
	Linear Law = iota
	Eurocode
)

// Material is what expands.
type Material struct {
	Name      string
	Law       Law
	AlphaPerK float64 // mean coefficient about 20 °C, 1/K; also used by Eurocode material below 20 °C
	// HalfWidth is the relative half-width of the coefficient's (or elongation's) rectangular distribution; 0 means
	// DefaultHalfWidth.
	HalfWidth float64
	ColdLaw   bool // ferritic steel: may be followed below ColdFromC
	FromC     float64
	ToC       float64 // range of the coefficient's source, °C; both 0 when the user gave it
	Origin    Origin
}

// DefaultHalfWidth covers the spread of published coefficients of steel, 11.2 to 12.5 per million and kelvin.
const DefaultHalfWidth = 0.05

// halfWidth gives HalfWidth or its default.
func (m *Material) halfWidth() float64 {
	if m.HalfWidth == 0 {
		return DefaultHalfWidth
	}
	return m.HalfWidth
}

// relativeStd is the relative standard uncertainty of the expansion: half-width over the root of three (GUM 4.3.7).
func (m *Material) relativeStd() float64 { return m.halfWidth() / math.Sqrt(3) }

// A ferritic steel shrinks less and less per kelvin as it gets colder. From ColdFromC down its coefficient is taken to fall
// linearly, so that the mean from 20 °C is about 0.92 of the room-temperature one down to -79 °C (dry ice) and
// 0.71 down to -196 °C (boiling nitrogen), and is used no further. From memory of low-temperature compilations of the
// expansion of iron and ferritic steels (1.9 mm/m from 20 to -196 °C); within about 5 % of them.
const (
	ColdFromC    quantity.Celsius = -20
	ColdestC     quantity.Celsius = -196
	coldFallPerK                  = 0.001368 // of the mean coefficient, per kelvin below 20 °C
	// coldSource is said wherever a size below ColdFromC is used.
	coldSource = "shrinking below -20 °C after low-temperature compilations for ferritic steel, from memory"
)

// HottestC is the highest temperature at which the Eurocode elongation is used, °C.
const HottestC quantity.Celsius = 750

func eurocodeStrain(t float64) float64 { return 1.2e-5*t + 0.4e-8*t*t - 2.416e-4 }

// Check refuses a material that can't expand.
func (m *Material) Check() error {
	if !(m.AlphaPerK >= 1e-6 && m.AlphaPerK <= 50e-6) {
		return fmt.Errorf("material %s: expansion coefficient %s per kelvin: a value between 1e-6 and 50e-6 is wanted, such as 12e-6 for steel", m.Name, plain(m.AlphaPerK))
	}
	if !(m.HalfWidth >= 0 && m.HalfWidth < 0.5) {
		return fmt.Errorf("material %s: half-width of the coefficient %s: a share between 0 and 0.5 is wanted", m.Name, plain(m.HalfWidth))
	}
	return nil
}

// Strain is the relative change of length from 20 °C to t. It rises with t. It refuses temperatures at which nothing is known of the
// material.
func (m *Material) Strain(t quantity.Celsius) (float64, error) {
	if err := m.Check(); err != nil {
		return 0, err
	}
	x := float64(t - ReferenceC)
	switch {
	case !quantity.Finite(x):
		return 0, fmt.Errorf("material %s: a temperature that is no number", m.Name)
	case t < ColdFromC && !m.ColdLaw:
		return 0, fmt.Errorf("nothing is known here of %s below %g °C: give a measured cold size", m.Name, float64(ColdFromC))
	case t < ColdestC:
		return 0, fmt.Errorf("nothing is known here of %s below %g °C", m.Name, float64(ColdestC))
	case t < ColdFromC:
		y, y0 := -x, float64(ReferenceC-ColdFromC)
		return -m.AlphaPerK * (y - coldFallPerK*(y*y-y0*y0)), nil
	case m.Law == Eurocode && t >= ReferenceC:
		if t > HottestC {
			return 0, fmt.Errorf("the elongation formula of EN 1993-1-2 is used up to %g °C", float64(HottestC))
		}
		return eurocodeStrain(float64(t)), nil
	}
	return m.AlphaPerK * x, nil
}

// errColder says that a temperature lies below everything that is known of the material.
var errColder = errors.New("nothing is known here")

// temperature is the inverse of Strain, and slope the strain per kelvin there. With errColder it gives the coldest temperature known.
func (m *Material) temperature(strain float64) (t quantity.Celsius, slope float64, err error) {
	if err := m.Check(); err != nil {
		return 0, 0, err
	}
	if coldest := -m.AlphaPerK * float64(ReferenceC-ColdFromC); strain < coldest {
		if !m.ColdLaw {
			return ColdFromC, m.AlphaPerK, fmt.Errorf("%w of %s below %g °C", errColder, m.Name, float64(ColdFromC))
		}
		// y - c (y^2 - y0^2) = -strain/alpha, the smaller root
		y0 := float64(ReferenceC - ColdFromC)
		b := -strain/m.AlphaPerK - coldFallPerK*y0*y0
		root := 1 - 4*coldFallPerK*b
		y := (1 - math.Sqrt(math.Max(0, root))) / (2 * coldFallPerK)
		t = ReferenceC - quantity.Celsius(y)
		if t < ColdestC-1e-6 { // the last digits belong to the root
			y = float64(ReferenceC - ColdestC)
			return ColdestC, m.AlphaPerK * (1 - 2*coldFallPerK*y), fmt.Errorf("%w of %s below %g °C", errColder, m.Name, float64(ColdestC))
		}
		return t, m.AlphaPerK * (1 - 2*coldFallPerK*y), nil
	}
	if m.Law == Eurocode && strain >= 0 {
		v := (-1.2e-5 + math.Sqrt(1.2e-5*1.2e-5+4*0.4e-8*(2.416e-4+strain))) / (2 * 0.4e-8)
		if quantity.Celsius(v) > HottestC {
			return 0, 0, fmt.Errorf("the elongation formula of EN 1993-1-2 is used up to %g °C", float64(HottestC))
		}
		return quantity.Celsius(v), 1.2e-5 + 0.8e-8*v, nil
	}
	return ReferenceC + quantity.Celsius(strain/m.AlphaPerK), m.AlphaPerK, nil
}

var materialTable = sync.OnceValue(func() []Material {
	var t []Material
	readTable("materials.csv", []string{"material", "mean_alpha_per_k_e6", "from_c", "to_c", "cold_law", "eurocode", "source", "confidence"}, func(c cells) {
		t = append(t, Material{Name: c.text("material"), AlphaPerK: c.number("mean_alpha_per_k_e6") * 1e-6,
			FromC: c.number("from_c"), ToC: c.number("to_c"), ColdLaw: c.text("cold_law") == "yes", Origin: c.origin()})
	})
	return t
})

// Materials lists the materials known here, each with its linear coefficient.
func Materials() []Material { return append([]Material(nil), materialTable()...) }

// FindMaterial gives a material by its name in the table, without regard to case.
func FindMaterial(name string) (Material, error) {
	var names []string
	for _, m := range materialTable() {
		if strings.EqualFold(m.Name, strings.TrimSpace(name)) {
			return m, nil
		}
		names = append(names, m.Name)
	}
	return Material{}, fmt.Errorf("material %q is not in the table (%s): name one of these or give the coefficient", name, strings.Join(names, ", "))
}

// BearingSteel is the material taken when none is named.
func BearingSteel() Material {
	m, err := FindMaterial("bearing-steel")
	if err != nil {
		panic(err) // the table is part of the program
	}
	return m
}

// CarbonSteelHub is carbon steel that expands after EN 1993-1-2:2005 3.4.1.1. It suits hubs of carbon steel, and no bearing ring:
// hardened steel is not what the formula was made for.
func CarbonSteelHub() Material {
	m, err := FindMaterial("carbon-steel")
	if err != nil {
		panic(err) // the table is part of the program
	}
	m.Law = Eurocode
	m.FromC, m.ToC = float64(ReferenceC), float64(HottestC)
	m.Origin = Origin{"EN 1993-1-2:2005 3.4.1.1, formula in published copies; the standard was not read", Verified}
	return m
}

// GivenMaterial is a material of which the user states the coefficient, 1/K. cold says that it is a ferritic steel.
func GivenMaterial(alphaPerK float64, cold bool) Material {
	return Material{Name: "steel or other metal as given", AlphaPerK: alphaPerK, ColdLaw: cold, Origin: Origin{"given", Given}}
}
