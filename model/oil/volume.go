package oil

// This file holds the change of volume and density with temperature.

import "math"

// k1D is the constant of the D group (lubricating oils) with K0 = 0. Per °F the table prints
// 0.34878, and 0.34878 × 1.8 = 0.6278. Source: ASTM D1250-80, table 54D; ISO 91.
const k1D = 0.6278

// The densities at 15 °C that table 54D is stated for.
const (
	MinTableKgM3 = 801.0
	MaxTableKgM3 = 1164.0
)

const (
	baseTempC = 15.0 // where VCF is 1
	refTempC  = 20.0 // of all volumes that are compared
)

// alphaPerC is the coefficient of expansion at 15 °C of an oil of this density.
func alphaPerC(rho15KgM3 float64) float64 { return k1D / rho15KgM3 }

// lnVCF is the logarithm of the volume correction factor, with d in °C above 15.
func lnVCF(alphaPerC, d float64) float64 { return -alphaPerC * d * (1 + 0.8*alphaPerC*d) }

// VCF is the factor that converts a volume at tempC to the volume at 15 °C:
//
//	VCF = exp(−α d (1 + 0.8 α d)),  d = T − 15,  α = 0.6278 / ρ15
//
// The table is stated for MinTableKgM3 to MaxTableKgM3; outside that range it is extrapolated.
// A density outside 600 to 1200 kg/m³ or a temperature outside −60 to 250 °C is an error.
// Source: ASTM D1250-80, table 54D (lubricating oils); ISO 91.
func VCF(rho15KgM3, tempC float64) (float64, error) {
	if err := (Oil{Rho15KgM3: rho15KgM3}).Validate(); err != nil {
		return 0, err
	}
	if err := CheckWithin("temperature", tempC, minTempC, maxTempC, "°C"); err != nil {
		return 0, err
	}
	return math.Exp(lnVCF(alphaPerC(rho15KgM3), tempC-baseTempC)), nil
}

// DensityAt is the density in kg/m³ at tempC: ρ(T) = ρ15 · VCF(T).
func (o Oil) DensityAt(tempC float64) (float64, error) {
	vcf, err := VCF(o.Rho15KgM3, tempC)
	return o.Rho15KgM3 * vcf, err
}

// Correction converts a volume read at one temperature to 20 °C, and holds the sensitivity of the
// result to the temperature:
//
//	V20 = V · Ratio
//	δV20/V20 = DLnPerC · δT
type Correction struct {
	Ratio   float64 // VCF(T)/VCF(20)
	DLnPerC float64 // d ln V20 / dT, 1/°C
}

// CorrectionTo20 is the correction from tempC to 20 °C for an oil of this density. With
// L(d) = −αd(1 + 0.8αd), ln Ratio = L(T−15) − L(5), so
//
//	d ln V20/dT = −α (1 + 1.6 α d)
//
// Errors as for VCF.
func CorrectionTo20(rho15KgM3, tempC float64) (Correction, error) {
	if _, err := VCF(rho15KgM3, tempC); err != nil {
		return Correction{}, err
	}
	a, d, d20 := alphaPerC(rho15KgM3), tempC-baseTempC, refTempC-baseTempC
	return Correction{
		Ratio:   math.Exp(lnVCF(a, d) - lnVCF(a, d20)),
		DLnPerC: -a * (1 + 1.6*a*d),
	}, nil
}

// VolumeAt20 is the volume in ml at 20 °C of a reading of volumeML at tempC.
func (o Oil) VolumeAt20(volumeML, tempC float64) (float64, error) {
	c, err := o.correct(volumeML, tempC)
	return volumeML * c.Ratio, err
}

// VolumeFrom20 is the inverse of VolumeAt20.
func (o Oil) VolumeFrom20(volumeML, tempC float64) (float64, error) {
	c, err := o.correct(volumeML, tempC)
	if err != nil {
		return 0, err
	}
	return volumeML / c.Ratio, nil
}

func (o Oil) correct(volumeML, tempC float64) (Correction, error) {
	if err := CheckWithin("volume", volumeML, 0, maxVolumeML, "ml"); err != nil {
		return Correction{}, err
	}
	return CorrectionTo20(o.Rho15KgM3, tempC)
}

// WeighedAt20 is the volume in ml at 20 °C of massG grams of the oil, whatever its
// temperature, and d ln V20 / dρ15 in 1/(kg/m³):
//
//	V20 = m·(1 − ρair/ρweights)/(ρ20 − ρair)
//
// with the conventional 1.2 kg/m³ of air and 8000 kg/m³ of weights (OIML R 111): the buoyancy of
// air is 0.12 %.
func (o Oil) WeighedAt20(massG float64) (volumeML, dLnPerKgM3 float64, err error) {
	if err := CheckWithin("mass", massG, 0, maxMassG, "g"); err != nil {
		return 0, 0, err
	}
	rho20KgM3, err := o.DensityAt(refTempC)
	if err != nil {
		return 0, 0, err
	}
	a, d20 := alphaPerC(o.Rho15KgM3), refTempC-baseTempC
	inAirKgM3 := rho20KgM3 - airKgM3
	volumeML = massG * (1 - airKgM3/weightsKgM3) / inAirKgM3 * 1000
	return volumeML, -(1 + a*d20*(1+1.6*a*d20)) / o.Rho15KgM3 * rho20KgM3 / inAirKgM3, nil
}

// Conventional densities of the air around a scale and of the weights it is adjusted with.
const (
	airKgM3     = 1.2
	weightsKgM3 = 8000
)
