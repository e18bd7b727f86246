// This file holds the arithmetic of values: each operation is the chain rule,
// applied to the terms of its operands (JCGM 100:2008, 5.1 and 5.2).

package measure

import (
	"fmt"
	"iter"
	"slices"
)

// Add returns v + w.
func (v Value) Add(w Value) Value { return linear(v.Nominal+w.Nominal, []float64{1, 1}, []Value{v, w}) }

// Sub returns v - w; sources they share cancel.
func (v Value) Sub(w Value) Value {
	return linear(v.Nominal-w.Nominal, []float64{1, -1}, []Value{v, w})
}

// Scale returns k·v for an exact k.
func (v Value) Scale(k float64) Value { return linear(k*v.Nominal, []float64{k}, []Value{v}) }

// Mul returns v·w.
func (v Value) Mul(w Value) Value {
	return linear(v.Nominal*w.Nominal, []float64{w.Nominal, v.Nominal}, []Value{v, w})
}

// Sum returns the sum of all vs; exactly 0 for none.
func Sum(vs ...Value) Value {
	nominal := 0.0
	for _, v := range vs {
		nominal += v.Nominal
	}
	return linear(nominal, slices.Repeat([]float64{1}, len(vs)), vs)
}

// Combine returns a function of several values, given its value and its partial
// derivative with respect to each of vs, taken at their nominals:
//
//	y = nominal + Σ partials[i]·(vs[i] - vs[i].Nominal)
//
// The error says that the two lists differ in length.
func Combine(nominal float64, partials []float64, vs []Value) (Value, error) {
	if len(partials) != len(vs) {
		return Value{}, fmt.Errorf("partials: need one for each of %d values, got %d", len(vs), len(partials))
	}
	return linear(nominal, partials, vs), nil
}

// linear is Combine for lists of the same length.
func linear(nominal float64, partials []float64, vs []Value) Value {
	switch len(vs) {
	case 1:
		return Value{nominal, merged(vs[0].terms, nil, partials[0], 0)}
	case 2:
		return Value{nominal, merged(vs[0].terms, vs[1].terms, partials[0], partials[1])}
	}
	count := 0
	for _, v := range vs {
		count += len(v.terms)
	}
	terms := make([]term, 0, count)
	for i, v := range vs {
		for _, t := range v.terms {
			terms = append(terms, term{t.source, partials[i] * t.c})
		}
	}
	return gathered(nominal, terms)
}

// merged is p·a + q·b of terms that are sorted, as gathered would have it.
func merged(a, b []term, p, q float64) []term {
	sum := make([]term, 0, len(a)+len(b))
	put := func(source Source, c float64) {
		if c != 0 {
			sum = append(sum, term{source, c})
		}
	}
	for len(a) > 0 && len(b) > 0 {
		switch order := a[0].source.Compare(b[0].source); {
		case order < 0:
			put(a[0].source, p*a[0].c)
			a = a[1:]
		case order > 0:
			put(b[0].source, q*b[0].c)
			b = b[1:]
		default:
			put(a[0].source, p*a[0].c+q*b[0].c)
			a, b = a[1:], b[1:]
		}
	}
	for _, t := range a {
		put(t.source, p*t.c)
	}
	for _, t := range b {
		put(t.source, q*t.c)
	}
	return sum
}

// gathered is the value of terms in any order, which it takes over. It adds up
// those of each source, in the order given, and drops those that cancel.
func gathered(nominal float64, terms []term) Value {
	if order := func(a, b term) int { return a.source.Compare(b.source) }; !slices.IsSortedFunc(terms, order) {
		slices.SortStableFunc(terms, order)
	}
	kept := terms[:0]
	for _, t := range terms {
		if last := len(kept) - 1; last >= 0 && kept[last].source == t.source {
			kept[last].c += t.c
		} else {
			kept = append(kept, t)
		}
	}
	return Value{nominal, slices.DeleteFunc(kept, func(t term) bool { return t.c == 0 })}
}

// Terms yields the sources of a value with their contributions, signed and in
// its unit, in a fixed order.
func (v Value) Terms() iter.Seq2[Source, float64] {
	return func(yield func(Source, float64) bool) {
		for _, t := range v.terms {
			if !yield(t.source, t.c) {
				return
			}
		}
	}
}

// Map is the value with each source and contribution changed.
func (v Value) Map(to func(Source, float64) (Source, float64)) Value {
	terms := make([]term, len(v.terms))
	for i, t := range v.terms {
		terms[i].source, terms[i].c = to(t.source, t.c)
	}
	return gathered(v.Nominal, terms)
}

// FromTerms is the value with the nominal and the contributions given, about so many. A
// source that is given twice counts with the sum of the two.
func FromTerms(nominal float64, about int, contributions iter.Seq2[Source, float64]) Value {
	terms := make([]term, 0, about)
	for source, c := range contributions {
		terms = append(terms, term{source, c})
	}
	return gathered(nominal, terms)
}
