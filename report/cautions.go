// Package report turns results into what people and programs read: one document in words (Document),
// written as text, and the same results as JSON lines and as a CSV list. It computes no result.
package report

import "strings"

// Cautions are the usual warnings for warming and mounting parts. They stand in every report format,
// in README and in the help of the commands that advise on heat.
var Cautions = []string{
	"Hot parts burn: wear heat-resistant gloves and eye protection, and mark a part that is still hot.",
	"Induction heaters have a strong magnetic field: people with pacemakers or other implants keep away, and watches, cards, phones and steel tools are kept clear.",
	"Mains power: use sound, earthed leads and plugs, and disconnect before working on the heater.",
	"Lifting and pinching: use lifting gear made for the weight, and keep fingers out from between part, shaft and support.",
	"No open flame, and no oil near its flash point.",
	"The instructions of the makers of part, heater and lubricant, local codes and licensed practice come first.",
	"This program advises on a record; it releases no work.",
}

// ShortCaution is the cautions in one line, for places with room for no more: a picture's foot, a list's column.
const ShortCaution = "Caution: hot parts burn; magnetic field (implants, watches, cards, tools); mains power; lifting and pinching; no open flame. " +
	"Makers' instructions, local codes and licensed practice come first. This program advises and releases no work."

// CautionText is the cautions as lines, each with a dash.
func CautionText() string { return "  - " + strings.Join(Cautions, "\n  - ") + "\n" }
