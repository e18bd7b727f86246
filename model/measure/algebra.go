// This file holds the arithmetic of values: each operation is the chain rule,
// applied to the terms of its operands (JCGM 100:2008, 5.1 and 5.2). It holds no
// statistics.

package measure

import (
	"fmt"
	"slices"
)

// Add returns v + w.
func (v Value) Add(w Value) Value { return linear(v.Nominal+w.Nominal, 1, v, 1, w) }

// Sub returns v - w; sources they share cancel.
func (v Value) Sub(w Value) Value { return linear(v.Nominal-w.Nominal, 1, v, -1, w) }

// Scale returns k·v for an exact k.
func (v Value) Scale(k float64) Value { return v.Apply(k*v.Nominal, k) }

// Mul returns v·w.
func (v Value) Mul(w Value) Value {
	return linear(v.Nominal*w.Nominal, w.Nominal, v, v.Nominal, w)
}

// Apply returns a function of v, given its value f and its derivative dfdx at
// v.Nominal.
func (v Value) Apply(f, dfdx float64) Value {
	if dfdx == 1 || len(v.terms) == 0 {
		return Value{Nominal: f, terms: v.terms}
	}
	terms := make([]term, 0, len(v.terms))
	for _, t := range v.terms {
		terms = appendTerm(terms, t.source, dfdx*t.c)
	}
	return Value{Nominal: f, terms: terms}
}

// Sum returns the sum of all vs; exactly 0 for none.
func Sum(vs ...Value) Value {
	nominal, count := 0.0, 0
	for _, v := range vs {
		nominal += v.Nominal
		count += len(v.terms)
	}
	terms := make([]term, 0, count)
	for _, v := range vs {
		terms = append(terms, v.terms...)
	}
	return Value{Nominal: nominal, terms: gather(terms)}
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
	return Value{Nominal: nominal, terms: gather(terms)}, nil
}

// gather sorts terms in place and adds up those of the same source.
func gather(terms []term) []term {
	slices.SortStableFunc(terms, func(a, b term) int { return a.source.compare(b.source) })
	kept := terms[:0]
	for i := 0; i < len(terms); {
		source, c := terms[i].source, 0.0
		for ; i < len(terms) && terms[i].source == source; i++ {
			c += terms[i].c
		}
		kept = appendTerm(kept, source, c)
	}
	return kept
}

// linear returns a value with the given nominal and the terms kv·v + kw·w, by one
// merge of the two sorted lists.
func linear(nominal, kv float64, v Value, kw float64, w Value) Value {
	if len(w.terms) == 0 {
		return v.Apply(nominal, kv)
	}
	if len(v.terms) == 0 {
		return w.Apply(nominal, kw)
	}
	a, b := v.terms, w.terms
	terms := make([]term, 0, len(a)+len(b))
	for len(a) > 0 && len(b) > 0 {
		switch order := a[0].source.compare(b[0].source); {
		case order < 0:
			terms = appendTerm(terms, a[0].source, kv*a[0].c)
			a = a[1:]
		case order > 0:
			terms = appendTerm(terms, b[0].source, kw*b[0].c)
			b = b[1:]
		default:
			terms = appendTerm(terms, a[0].source, kv*a[0].c+kw*b[0].c)
			a, b = a[1:], b[1:]
		}
	}
	for _, t := range a {
		terms = appendTerm(terms, t.source, kv*t.c)
	}
	for _, t := range b {
		terms = appendTerm(terms, t.source, kw*t.c)
	}
	return Value{Nominal: nominal, terms: terms}
}

// appendTerm drops contributions that have cancelled.
func appendTerm(terms []term, source Source, c float64) []term {
	if c == 0 {
		return terms
	}
	return append(terms, term{source, c})
}
