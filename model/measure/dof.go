// This file holds degrees of freedom: how well an uncertainty is itself known, and
// the coverage factor that follows (JCGM 100:2008, annex G).

package measure

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// DoFContribution is a contribution to a combined uncertainty and the degrees of
// freedom it is known with; +Inf for one that is certain.
type DoFContribution struct {
	U   float64
	DoF float64
}

// EffectiveDoF returns the degrees of freedom of the combined uncertainty of
// independent contributions, by the Welch-Satterthwaite formula (JCGM 100:2008, G.2b):
//
//	ν_eff = u_c⁴ / Σ (u_i⁴/ν_i)
//
// It is +Inf where nothing is doubtful. The error names the contribution whose U is not
// finite and at least zero, or whose DoF is not above zero.
func EffectiveDoF(contributions []DoFContribution) (float64, error) {
	variance, sum := 0.0, 0.0
	for i, c := range contributions {
		if !(c.U >= 0) || math.IsInf(c.U, 0) {
			return 0, fmt.Errorf("contribution %d: uncertainty must be finite and at least zero, is %g", i+1, c.U)
		}
		if !(c.DoF > 0) {
			return 0, fmt.Errorf("contribution %d: degrees of freedom must be above zero, is %g", i+1, c.DoF)
		}
		square := c.U * c.U
		variance += square
		sum += square * square / c.DoF
	}
	if sum == 0 {
		return math.Inf(1), nil
	}
	return variance * variance / sum, nil
}

// normalFromDoF is where Student's t and the normal distribution no longer differ in
// six digits, and beyond which the quantile loses its footing.
const normalFromDoF = 1e7

// CoverageFactor returns k such that ± k·u covers the fraction p of Student's t
// distribution with dof degrees of freedom, +Inf meaning the normal distribution
// (JCGM 100:2008, table G.2). The error says what p and dof may be.
func CoverageFactor(p, dof float64) (float64, error) {
	quantile := (1 + p) / 2
	if !(p > 0 && quantile < 1) {
		return 0, fmt.Errorf("coverage: must lie between 0 and 1, is %g", p)
	}
	if !(dof >= 1) {
		return 0, fmt.Errorf("degrees of freedom: must be at least 1, is %g", dof)
	}
	if dof >= normalFromDoF {
		return distuv.UnitNormal.Quantile(quantile), nil
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Quantile(quantile), nil
}
