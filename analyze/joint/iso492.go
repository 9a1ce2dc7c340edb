package joint

import (
	"fmt"
	"sync"
)

type boreCell struct {
	sizes sizeRange
	d     Deviations
}

var boreTable = sync.OnceValue(func() []boreCell {
	var t []boreCell
	readTable("iso492_normal_bore.csv", []string{"over_mm", "incl_mm", "upper_um", "lower_um", "source", "confidence"}, func(c cells) {
		t = append(t, boreCell{c.sizes(), Deviations{c.number("upper_um"), c.number("lower_um"), c.origin()}})
	})
	return t
})

// BearingBore gives the deviations of the mean bore of a radial bearing of Normal tolerance class at a nominal bore
// in mm, over 2.5 to 1000 (ISO 492). The bore is never larger than nominal.
func BearingBore(nominalMM float64) (Deviations, error) {
	for _, c := range boreTable() {
		if c.sizes.holds(nominalMM) {
			return c.d, nil
		}
	}
	return Deviations{}, fmt.Errorf("bearing bore %s mm lies outside the table of ISO 492 (over 2.5 to 1000 mm): give the measured bore or the interference instead", plain(nominalMM))
}
