package oil

// Checks of the viscosity index and of its table.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"
)

// The worked examples of ASTM D2270. The standard rounds H to the table's digits before it
// goes on (28.975 to 28.97), hence 0.06.
func TestIndexPublished(t *testing.T) {
	for _, row := range []struct {
		source                       string
		kv40CSt, kv100CSt, unrounded float64
		procedure                    Procedure
		reported                     int
	}{
		{"5.1.4, dgaequipment.com astm-d2270 page 2791", 73.30, 8.86, 92.43, ProcedureA, 92},
		{"6.1.4 (1), dgaequipment.com astm-d2270 page 2793", 22.83, 5.05, 156.37, ProcedureB, 156},
		{"6.1.4 (2), viscosities seen on page 2793, result from memory", 53.47, 7.80, 111.30, ProcedureB, 111},
	} {
		got, err := viscosityIndex(row.kv40CSt, row.kv100CSt)
		if err != nil || math.Abs(got.Value-row.unrounded) > 0.06 || got.Rounded() != row.reported || got.Procedure != row.procedure {
			t.Errorf("%s: got %+v, %v; want %.2f by %s", row.source, got, err, row.unrounded, row.procedure)
		}
	}
}

// The interpolated values that the standard's examples print.
func TestTablePublished(t *testing.T) {
	if ref := referenceAt(8.86); math.Abs(ref.l-119.94) > 0.005 || math.Abs(ref.h-69.48) > 0.005 {
		t.Errorf("at 8.86: %+v, want L 119.94, H 69.48", ref)
	}
	// Above 70 the standard has equations (3) and (4), which the page repeats: by hand.
	for y, want := range map[float64]lh{70: {4903.87, 1557.66}, 100: {9604, 2772}} {
		if ref := referenceAt(y); math.Abs(ref.l-want.l) > 0.01 || math.Abs(ref.h-want.h) > 0.01 {
			t.Errorf("at %g: %+v, want %+v", y, ref, want)
		}
	}
	if ref := referenceAt(5.05); math.Abs(ref.h-28.97) > 0.0051 {
		t.Errorf("at 5.05: H %v, want 28.97", ref.h)
	}
}

// Appendix X2 of ASTM D2270 gives the table as quadratics, L = aY² + bY + c and
// H = dY² + eY + f (coefficients as in lubricalc by L. Pozo Ramos, 2018). They are another
// publication of the same table, so a slip in any of its rows shows here.
func TestTableAgainstQuadratics(t *testing.T) {
	segments := []struct{ to, a, b, c, d, e, f float64 }{
		{3.8, 1.14673, 1.7576, -0.109, 0.84155, 1.5521, -0.077},
		{4.4, 3.38095, -15.4952, 33.196, 0.78571, 1.7929, -0.183},
		{5, 2.5, -7.2143, 13.812, 0.82143, 1.5679, 0.119},
		{6.4, 0.101, 16.635, -45.469, 0.04985, 9.1613, -18.557},
		{7, 3.35714, -23.5643, 78.466, 0.22619, 7.7369, -16.656},
		{7.7, 0.01191, 21.475, -72.870, 0.79762, -0.7321, 14.61},
		{9, 0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240},
		{12, 0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810},
		{15, 0.7672, 10.7972, -38.180, 0.20073, 8.4658, -22.490},
		{18, 0.97305, 5.3135, -2.200, 0.28889, 5.9741, -4.930},
		{22, 0.97256, 5.25, -0.980, 0.24504, 7.416, -16.730},
		{28, 0.91413, 7.4759, -21.820, 0.20323, 9.1267, -34.230},
		{40, 0.87031, 9.7157, -50.770, 0.18411, 10.1015, -46.750},
		{55, 0.84703, 12.6752, -133.310, 0.17029, 11.4866, -80.620},
		{70, 0.85921, 11.1009, -83.19, 0.1713, 11.368, -76.940},
		{100, 0.83531, 14.6731, -216.246, 0.16841, 11.8493, -96.947},
	}
	for tenths := 20; tenths < 1000; tenths++ {
		y := float64(tenths) / 10
		i := 0
		for y >= segments[i].to {
			i++
		}
		s := segments[i]
		ref, l, h := referenceAt(y), (s.a*y+s.b)*y+s.c, (s.d*y+s.e)*y+s.f
		if math.Abs(ref.l/l-1) > 0.001 || math.Abs(ref.h/h-1) > 0.001 {
			t.Errorf("Y %.1f: table %v, quadratics %.2f %.2f", y, ref, l, h)
		}
	}
}

// Where one way of getting L and H ends and the next begins, the index must not jump.
func TestReferenceIsContinuous(t *testing.T) {
	for _, y := range []float64{2.1, 5, 19.9, 20, 29.8, 30, 69.5, 70} {
		below, above := referenceAt(y-1e-9), referenceAt(y+1e-9)
		// At 70 the table ends at 4905 and 1558, the equation begins at 4903.87 and 1557.66.
		if math.Abs(below.l/above.l-1) > 3e-4 || math.Abs(below.h/above.h-1) > 3e-4 {
			t.Errorf("at %g: %v then %v", y, below, above)
		}
	}
}

func TestProceduresMeetAt100(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kv100CSt := rapid.Float64Range(2, 200).Draw(t, "kv100")
		h := referenceAt(kv100CSt).h
		a, errA := viscosityIndex(h, kv100CSt)
		b, errB := viscosityIndex(h*(1-1e-9), kv100CSt)
		if errA != nil || errB != nil || a.Procedure != ProcedureA || b.Procedure != ProcedureB {
			t.Fatalf("%v %v, %v %v", a, errA, b, errB)
		}
		if math.Abs(a.Value-100) > 1e-9 || math.Abs(b.Value-100) > 1e-5 {
			t.Fatalf("index at H is %v by A, %v by B", a.Value, b.Value)
		}
	})
}

func TestIndexGoesThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kv100CSt := rapid.Float64Range(3, 100).Draw(t, "kv100")
		index := rapid.Float64Range(0, 250).Draw(t, "index")
		kv40CSt, err := kv40ForIndex(kv100CSt, index)
		if err != nil {
			t.Fatal(err)
		}
		back, err := viscosityIndex(kv40CSt, kv100CSt)
		if err != nil || !scalar.EqualWithinAbs(back.Value, index, 1e-6) {
			t.Fatalf("index %v came back as %+v, %v", index, back, err)
		}
		if thicker, err := viscosityIndex(kv40CSt*1.01, kv100CSt); err != nil || thicker.Value >= back.Value {
			t.Fatalf("index %v rose to %+v, %v with a thicker oil at 40 °C", back.Value, thicker, err)
		}
	})
}

func TestIndexRefusals(t *testing.T) {
	for _, row := range []struct{ kv40CSt, kv100CSt float64 }{
		{6, 1.99}, {10, 10}, {5, 10}, {0, 0}, {0, 8}, {80, 0}, {-1, -2},
		{math.NaN(), 8}, {80, math.NaN()}, {math.Inf(1), 8},
	} {
		if got, err := viscosityIndex(row.kv40CSt, row.kv100CSt); err == nil {
			t.Errorf("%+v accepted: %+v", row, got)
		}
	}
	if _, err := unknown().ViscosityIndex(); err != errViscosityNotKnown {
		t.Errorf("oil without viscosities: %v", err)
	}
	for _, row := range []struct{ kv100CSt, index float64 }{{1.9, 100}, {14, -1}, {14, 501}, {math.NaN(), 100}, {14, math.NaN()}} {
		if got, err := kv40ForIndex(row.kv100CSt, row.index); err == nil {
			t.Errorf("%+v accepted: %v", row, got)
		}
	}
}

func TestRounding(t *testing.T) {
	for value, want := range map[float64]int{116.5: 116, 117.5: 118, 92.43: 92, 156.51: 157, -0.6: -1} {
		if got := (Index{Value: value}).Rounded(); got != want {
			t.Errorf("%v rounds to %d, want %d", value, got, want)
		}
	}
}

// The table is read by the place of its rows, so each has to be where it is looked for.
func TestTheTableHasItsRowsInTheirPlaces(t *testing.T) {
	rows := strings.Split(strings.TrimSpace(viTable), "\n")[1:] // without its head
	if len(rows) != 311 || len(lhTable()) != len(rows) {
		t.Fatalf("%d rows, %d of them read", len(rows), len(lhTable()))
	}
	for i, row := range rows {
		var kv100CSt float64
		var want lh
		if _, err := fmt.Sscanf(row, "%g,%g,%g", &kv100CSt, &want.l, &want.h); err != nil {
			t.Fatalf("row %q: %v", row, err)
		}
		got := referenceAt(kv100CSt)
		if kv100CSt < 70 && (math.Abs(got.l/want.l-1) > 1e-9 || math.Abs(got.h/want.h-1) > 1e-9) {
			t.Errorf("row %d, %g cSt: %v, want %v", i, kv100CSt, got, want)
		}
	}
}
