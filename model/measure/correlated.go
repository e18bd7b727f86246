// This file makes correlated values from a covariance matrix, by giving them
// shared sources.

package measure

import (
	"errors"
	"fmt"
	"math"
)

// ErrNotPositiveSemidefinite is returned by Correlated for a matrix that no set of
// errors can have as its covariance.
var ErrNotPositiveSemidefinite = errors.New("covariance: must be positive semidefinite")

// pivotTolerance is the part of its own variance below which what is left of a
// value's variance counts as zero: a value that the ones before it determine.
const pivotTolerance = 1e-12

// Correlated returns one value for each name, with the nominals and the covariance
// matrix given (square, symmetric, in the product of the values' units, semidefinite
// allowed). The values rest on as many fresh Gaussian sources, named as the values
// are, through the Cholesky factor of the matrix:
//
//	x_i = nominal_i + Σ_j≤i L_ij·source_j,  L·Lᵀ = cov
//
// so names already used as sources elsewhere must not be used again. See
// JCGM 101:2008, 6.4.8.4, for the same factor used in drawing.
func Correlated(names []string, nominals []float64, cov [][]float64) ([]Value, error) {
	if err := checkCovariance(names, nominals, cov); err != nil {
		return nil, err
	}
	factor, err := cholesky(cov)
	if err != nil {
		return nil, err
	}
	values := make([]Value, len(names))
	for i, row := range factor {
		terms := make([]term, 0, i+1)
		for j, c := range row {
			terms = appendTerm(terms, Source{Name: names[j], Shape: ShapeGaussian}, c)
		}
		values[i] = Value{Nominal: nominals[i], terms: gather(terms)}
	}
	return values, nil
}

func checkCovariance(names []string, nominals []float64, cov [][]float64) error {
	n := len(names)
	if len(nominals) != n || len(cov) != n {
		return fmt.Errorf("covariance: need %d nominals and rows as there are names, got %d and %d", n, len(nominals), len(cov))
	}
	seen := make(map[string]bool, n)
	for i, name := range names {
		if seen[name] {
			return fmt.Errorf("names: each must be used once, %q is used twice", name)
		}
		seen[name] = true
		if len(cov[i]) != n {
			return fmt.Errorf("covariance: row %d must have %d columns, has %d", i+1, n, len(cov[i]))
		}
	}
	for i := range cov {
		for j, c := range cov[i] {
			if math.IsNaN(c) || math.IsInf(c, 0) {
				return fmt.Errorf("covariance: row %d column %d must be a finite number", i+1, j+1)
			}
			if scale := math.Sqrt(math.Abs(cov[i][i])) * math.Sqrt(math.Abs(cov[j][j])); math.Abs(c-cov[j][i]) > pivotTolerance*scale {
				return fmt.Errorf("covariance: must be symmetric, row %d column %d is not", i+1, j+1)
			}
		}
	}
	return nil
}

// cholesky returns the lower triangular factor, row i having i+1 elements. A pivot
// of zero, within rounding, leaves its column empty.
func cholesky(cov [][]float64) ([][]float64, error) {
	factor := make([][]float64, len(cov))
	for i := range cov {
		factor[i] = make([]float64, i+1)
		for j := range i + 1 {
			rest := cov[i][j]
			for k := range j {
				rest -= factor[i][k] * factor[j][k]
			}
			scale := math.Sqrt(math.Abs(cov[i][i])) * math.Sqrt(math.Abs(cov[j][j]))
			switch {
			case i == j && rest < -pivotTolerance*scale:
				return nil, ErrNotPositiveSemidefinite
			case i == j && rest > pivotTolerance*scale:
				factor[i][i] = math.Sqrt(rest)
			case i == j:
				factor[i][i] = 0
			case factor[j][j] > 0:
				factor[i][j] = rest / factor[j][j]
			case math.Abs(rest) > math.Sqrt(pivotTolerance)*scale:
				return nil, ErrNotPositiveSemidefinite
			}
		}
	}
	return factor, nil
}
