// What all units share: the exact definitions, the table that gives a unit its
// symbol, factor and digits. The units themselves are in units_amount.go and
// units_other.go, their spellings when typed in names.go.

package quantity

import (
	"fmt"
	"math"
)

// The exact definitions all factors are made from. Constant arithmetic in Go
// is exact, so a factor is rounded once, when it becomes a float64.
const (
	inchMM            = 25.4
	poundG            = 453.59237
	cubicInchML       = 2.54 * 2.54 * 2.54
	usGallonML        = 231 * cubicInchML
	imperialGallonML  = 4546.09
	standardGravityMS = 9.80665
	poundForceN       = poundG / 1000 * standardGravityMS
	poundFootNm       = poundForceN * 12 * inchMM / 1000
	psiKPa            = poundForceN / (inchMM * inchMM) * 1000
	mileKm            = 1760 * 36 * inchMM / 1e6
)

// unitInfo describes one unit: its symbol, how many base units it holds, and
// how its numbers are printed.
type unitInfo struct {
	symbol string
	factor float64
	digits digits
}

// infoOf finds a unit in its table; ok is false for a value outside it.
func infoOf[U ~uint8](table []unitInfo, u U) (info unitInfo, ok bool) {
	if int(u) >= len(table) {
		return unitInfo{factor: math.NaN()}, false
	}
	return table[u], true
}

func symbolOf[U ~uint8](table []unitInfo, u U) string {
	if info, ok := infoOf(table, u); ok {
		return info.symbol
	}
	return fmt.Sprintf("unit %d", u)
}

func factorOf[U ~uint8](table []unitInfo, u U) float64 {
	info, _ := infoOf(table, u)
	return info.factor
}
