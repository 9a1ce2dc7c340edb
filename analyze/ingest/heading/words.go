package heading

import "strings"

// class is what one word can stand for. Its names read as the English word of that meaning.
type class uint8

// The classes of words; wNone is a word that is not in the vocabulary.
const (
	wNone    class = iota
	wInner         // inner, of a ring
	wInside        // inside, internal: inner only beside a ring word or its counterpart
	wOuter         // outer, of a ring
	wOutside       // outside, external
	wRing
	wRace // raceway
	wBore // bore or hub: the inner side of a part
	wRim  // the outer side of a part
	wAmbient
	wAir
	wShaft
	wSeat
	wAsnl    // Dutch "as": shaft, but also an English word
	wBearing // the part that is warmed
	wSetpoint
	wSet    // set point only beside a temperature or "point"
	wActual // the measured value as opposed to the set point
	wPoint
	wNominal
	wHigh
	wLow
	wDiameter // a dimension
	wIr       // inner ring, or infrared
	wOr       // outer ring, or the English "or"
	wAr       // German Außenring
	wBi       // French bague intérieure
	wBe       // French bague extérieure
	wPw       // Polish pierścień wewnętrzny
	wPz       // Polish pierścień zewnętrzny
	wYr       // Swedish ytterring
	wId       // inside diameter, or identifier
	wOd       // outside diameter
	wLetteri  // i before "ring"
	wLettero  // o before "ring"
	wInfrared
	wVoid      // a thing that is no part of a ring
	wElsewhere // a body beside the warmed part
	wTemp
	wTheta
	wTsensor // a sensor for temperature
	wType
	wDew
	wWet
	wBulb
	wUncertainty
	wDifference
	wRate
	wMinus
	wLimit
	wAlarm
	wInternal
	wLogger
	wJunction
	wCold
	wJoint
	wOffset
	wComputed
	wMin
	wMax
	wAvg
	wSd
	wStandard
	wRange
	wTime
	wClock
	wDate
	wData // a date in Italian, Polish, Portuguese; data in English
	wStamp
	wElapsed
	wEpoch
	wSerialday
	wUtc
	wIndex
	wNumber
	wCounter
	wChannel
	wName
	wValue
	wUnit
	wStatus
	wText
	wBattery
	wVoltage
	wCurrent
	wPower
	wEnergy
	wResistance
	wFrequency
	wHumidity
	wPressure
	wLight
	wMass
	wLength
	wSpeed
	wFlow
	wForce
	wMagnetism
	wConcentration
	wPercent
	wAdc
	wYear
	wMonth
	wDay
	wHour
	wMinute
	wSecond
	wMillisecond
	wMicrosecond
	wZone
	wAmpm
	wStart
	wEnd
	wInterval
	wSampling
	wSerialno
	wExport
	wTitle
	wModel
	wFormat
	wDecimal
	wFiller
	wLocation
	classCount
)

// entry is one word of the vocabulary with its one or two classes.
type entry struct {
	word string
	a, b class
}

// lookup finds a folded word in the vocabulary; wNone twice when it isn't there.
func lookup(word string) (a, b class) {
	lo, hi := 0, len(vocabulary)
	for lo < hi {
		mid := int(uint(lo+hi) >> 1)
		if vocabulary[mid].word < word {
			lo = mid + 1
		} else {
			hi = mid
		}
	}
	if lo < len(vocabulary) && vocabulary[lo].word == word {
		return vocabulary[lo].a, vocabulary[lo].b
	}
	return wNone, wNone
}

// maxParts and maxCompound bound how a compound word is taken apart, so that no text is slow to read.
const (
	maxParts    = 5
	maxCompound = 48
)

// parts takes a compound apart ("innenringtemperatur": innen, ring, temperatur) when all of it is made of
// words of the vocabulary of at least three letters, with an s, n, en or es between them where Germanic
// languages put one, and a leading t for "temperature" ("tbore"). It gives the classes of the parts,
// or n = 0. The longest first part that leads to a full division wins.
func parts(word string) (classes [maxParts]class, ends [maxParts]int, n int) {
	if len(word) < 4 || len(word) > maxCompound {
		return classes, ends, 0
	}
	budget := 400 // lookups; a word of the vocabulary needs far fewer
	n = divide(word, 0, 0, &classes, &ends, &budget)
	if n < 2 {
		return classes, ends, 0
	}
	return classes, ends, n
}

func divide(word string, from, depth int, classes *[maxParts]class, ends *[maxParts]int, budget *int) int {
	if from == len(word) {
		return depth
	}
	if depth == maxParts {
		return 0
	}
	for to := len(word); to >= from+3; to-- {
		*budget--
		if *budget < 0 {
			return 0
		}
		a, _ := lookup(word[from:to])
		if a == wNone || a == wFiller {
			continue
		}
		classes[depth], ends[depth] = a, to
		for _, link := range [...]string{"", "s", "n", "en", "es"} {
			if link != "" && (to == len(word) || !strings.HasPrefix(word[to:], link)) {
				continue
			}
			if n := divide(word, to+len(link), depth+1, classes, ends, budget); n > 0 {
				return n
			}
		}
	}
	if from == 0 && word[0] == 't' && len(word) >= 4 {
		classes[0], ends[0] = wTemp, 1
		return divide(word, 1, 1, classes, ends, budget)
	}
	return 0
}
