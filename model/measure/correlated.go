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

const (
	// pivotTolerance is the part of its own variance below which what is left of a
	// value's variance counts as zero: the values before it determine it.
	pivotTolerance = 1e-12
	// restTolerance is what rounding may leave behind, as a correlation, once every
	// pivot is spent. More than that is not a covariance matrix.
	restTolerance = 1e-10
)

// Correlated returns one value for each name, with the nominals and the covariance
// matrix given (square, symmetric, in the product of the values' units, semidefinite
// allowed). The values rest on as many fresh Gaussian sources, named as the values
// are, through a Cholesky factor of the matrix:
//
//	x_i = nominal_i + Σ_j L_ij·source_j,  L·Lᵀ = cov
//
// so names already used as sources elsewhere must not be used again. The largest
// variance left is taken first, which keeps nearly dependent values accurate.
// Sources: JCGM 101:2008, 6.4.8.4 (the same factor used in drawing); N. J. Higham,
// Accuracy and Stability of Numerical Algorithms, 10.3 (complete pivoting).
func Correlated(names []string, nominals []float64, cov [][]float64) ([]Value, error) {
	if err := checkCovariance(names, nominals, cov); err != nil {
		return nil, err
	}
	sd, rest, err := correlations(cov)
	if err != nil {
		return nil, err
	}
	values := make([]Value, len(names))
	for i := range values {
		values[i].Nominal = nominals[i]
	}
	for range names {
		pivot := largestDiagonal(rest)
		if rest[pivot][pivot] <= pivotTolerance {
			break
		}
		column := eliminate(rest, pivot)
		for i := range values {
			values[i].terms = appendTerm(values[i].terms, Source{Name: names[pivot]}, sd[i]*column[i])
		}
	}
	for i := range values {
		values[i].terms = gather(values[i].terms)
		for _, left := range rest[i] {
			if math.Abs(left) > restTolerance {
				return nil, ErrNotPositiveSemidefinite
			}
		}
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

// correlations splits a covariance matrix into standard deviations and correlations;
// a value that does not vary correlates with nothing, not even itself.
func correlations(cov [][]float64) (sd []float64, r [][]float64, err error) {
	sd, r = make([]float64, len(cov)), make([][]float64, len(cov))
	for i := range cov {
		if cov[i][i] < 0 {
			return nil, nil, ErrNotPositiveSemidefinite
		}
		sd[i] = math.Sqrt(cov[i][i])
	}
	for i := range cov {
		r[i] = make([]float64, len(cov))
		for j, c := range cov[i] {
			switch {
			case c == 0:
			case sd[i] == 0 || sd[j] == 0:
				return nil, nil, ErrNotPositiveSemidefinite
			default:
				r[i][j] = c / sd[i] / sd[j]
			}
		}
	}
	return sd, r, nil
}

func largestDiagonal(m [][]float64) int {
	largest := 0
	for i := range m {
		if m[i][i] > m[largest][largest] {
			largest = i
		}
	}
	return largest
}

// eliminate returns the column of the Cholesky factor that belongs to the pivot, and
// subtracts what it explains from m.
func eliminate(m [][]float64, pivot int) []float64 {
	column := make([]float64, len(m))
	root := math.Sqrt(m[pivot][pivot])
	for i := range m {
		column[i] = m[i][pivot] / root
	}
	for i := range m {
		for j := range m[i] {
			m[i][j] -= column[i] * column[j]
		}
	}
	return column
}
