package oil

// This file holds the viscosity index and its inverse.

import (
	"cmp"
	"fmt"
	"math"
)

// Procedure is the part of ASTM D2270 that a viscosity index was computed by.
type Procedure uint8

const (
	ProcedureA Procedure = iota + 1 // index up to and including 100
	ProcedureB                      // index of 100 and greater
)

func (p Procedure) String() string {
	switch p {
	case ProcedureA:
		return "procedure A"
	case ProcedureB:
		return "procedure B"
	}
	return "no procedure"
}

const (
	minIndexKV100CSt = 2.0 // below it the standard defines no index
	maxIndex         = 500.0
	perIndex         = 0.00715 // constant of procedure B: the rise of 10^N for a rise of the index by 1
)

// Index is a viscosity index, not rounded, and the procedure that gave it.
type Index struct {
	Value     float64
	Procedure Procedure
}

// Rounded is the index as the standard reports it: to the nearest whole number, a half to
// the even one.
func (i Index) Rounded() int { return int(math.RoundToEven(i.Value)) }

// viscosityIndex computes the index from the viscosities at 40 and 100 °C in cSt. With U for
// KV40, Y for KV100, and L and H from the table at Y:
//
//	A (U ≥ H):  VI = 100 (L − U)/(L − H)
//	B (U < H):  VI = (10^N − 1)/0.00715 + 100,  N = (log H − log U)/log Y
//
// Below 2 cSt at 100 °C the index is not defined, which is an error. An index below 0 is a
// valid result. Source: ASTM D2270; ISO 2909.
func viscosityIndex(kv40CSt, kv100CSt float64) (Index, error) {
	if err := checkViscosities(kv40CSt, kv100CSt); err != nil {
		return Index{}, err
	}
	if kv100CSt < minIndexKV100CSt {
		return Index{}, fmt.Errorf("kv100 %g cSt: the viscosity index is defined from %g cSt up", kv100CSt, minIndexKV100CSt)
	}
	ref := referenceAt(kv100CSt)
	if kv40CSt >= ref.h {
		return Index{100 * (ref.l - kv40CSt) / (ref.l - ref.h), ProcedureA}, nil
	}
	n := math.Log(ref.h/kv40CSt) / math.Log(kv100CSt)
	return Index{(math.Pow(10, n)-1)/perIndex + 100, ProcedureB}, nil
}

// ViscosityIndex of the oil; it fails where KV40 and KV100 are not known.
func (o Oil) ViscosityIndex() (Index, error) {
	if err := o.Validate(); err != nil {
		return Index{}, err
	}
	if !o.KnowsViscosity() {
		return Index{}, errViscosityNotKnown
	}
	return viscosityIndex(o.KV40CSt, o.KV100CSt)
}

// kv40ForIndex is the viscosity in cSt at 40 °C that an oil of this viscosity at 100 °C and
// this index has: viscosityIndex solved for U. The index may be 0 to 500.
func kv40ForIndex(kv100CSt, index float64) (float64, error) {
	if err := cmp.Or(
		CheckWithin("kv100", kv100CSt, minIndexKV100CSt, MaxKVCSt, "cSt"),
		CheckWithin("viscosity index", index, 0, maxIndex, ""),
	); err != nil {
		return 0, err
	}
	ref := referenceAt(kv100CSt)
	kv40CSt := ref.l - index/100*(ref.l-ref.h)
	if index > 100 {
		n := math.Log10(1 + perIndex*(index-100))
		kv40CSt = ref.h / math.Pow(kv100CSt, n)
	}
	if err := checkViscosities(kv40CSt, kv100CSt); err != nil {
		return 0, err
	}
	return kv40CSt, nil
}
