package oil

// This file reads Table 1 of ASTM D2270 (the same table as in ISO 2909), which vitable.csv
// holds, and interpolates in it. The rows are as restated in the public chemicals library of
// C. Bell and others (viscosity_index); each is within 0.1 % of the quadratics of appendix X2
// of the standard.

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
)

// lh is a row of the table: the viscosities at 40 °C, in cSt, of the two reference oils that
// have the same viscosity at 100 °C as the oil in question.
type lh struct {
	l float64 // of viscosity index 0
	h float64 // of viscosity index 100
}

// referenceAt reads the table at kv100CSt (the Y of the standard) by linear interpolation,
// and above 70 cSt takes the standard's equations (3) and (4):
//
//	L = 0.8353 Y² + 14.67 Y − 216
//	H = 0.1684 Y² + 11.85 Y − 97
//
// kv100CSt must be 2 or more.
func referenceAt(kv100CSt float64) lh {
	y := kv100CSt
	if y >= 70 {
		return lh{l: (0.8353*y+14.67)*y - 216, h: (0.1684*y+11.85)*y - 97}
	}
	var place float64 // in rows from the top
	switch {
	case y < 20:
		place = (y - 2) / 0.1
	case y < 30:
		place = 180 + (y-20)/0.2
	default:
		place = 230 + (y-30)/0.5
	}
	table := lhTable()
	row := min(int(place), len(table)-2)
	part := place - float64(row)
	from, to := table[row], table[row+1]
	return lh{l: from.l + part*(to.l-from.l), h: from.h + part*(to.h-from.h)}
}

//go:embed vitable.csv
var viTable string

// lhTable has a row for each kv100 from 2 to 70 cSt: in steps of 0.1, from 20 on of 0.2, from
// 30 on of 0.5.
var lhTable = sync.OnceValue(func() (rows []lh) {
	for line := range strings.Lines(viTable) {
		cells := strings.Split(strings.TrimSpace(line), ",")
		l, errL := strconv.ParseFloat(cells[1], 64)
		h, errH := strconv.ParseFloat(cells[2], 64)
		if errL == nil && errH == nil { // the head is none
			rows = append(rows, lh{l, h})
		}
	}
	return rows
})
