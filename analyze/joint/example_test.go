package joint_test

import (
	"fmt"

	"ringheat/analyze/joint"
	"ringheat/analyze/quantity"
)

func ExampleFindNeed() {
	interference, err := joint.FindInterference(100, joint.SizeSpec{Class: "m6"}, joint.SizeSpec{Class: joint.NormalBore},
		joint.BearingSteel(), joint.BearingSteel())
	if err != nil {
		fmt.Println(err)
		return
	}
	limit := quantity.Celsius(120)
	need, err := joint.FindNeed(joint.Seat{DiameterMM: 100, Interference: interference, ShaftC: 20, LimitC: &limit, GuardK: 1.8})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(interference.MinUM, "to", interference.MaxUM, "µm")
	fmt.Println(need.Words)
	fmt.Println("set-point", *need.SetPointC, "°C")
	for _, note := range need.Notes {
		fmt.Println("-", note)
	}
	// Output:
	// 13 to 55 µm
	// the bore has to be at least 88.8 °C, which leaves 31.2 K to the limit of 120 °C
	// set-point 95 °C
	// - ease of 27.5 µm: half the largest interference, custom for hardened rings, from memory
	// - part and shaft are taken to expand alike: bearing-steel, 12.0 per million and kelvin (hardened bearing steel, trade custom, from memory; books use 11 to 12.5)
	// - interference 13 to 55 µm: shaft m6 (+35/+13 µm), bore Normal (+0/-20 µm) (verified)
}
