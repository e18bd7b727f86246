package model

// This file checks which values an import refuses, field by field.

import (
	"strings"
	"testing"
)

func TestFalseWord13ValuesThatCannotBeMeant(t *testing.T) {
	warm, glowing := 38.0, 900.0
	ml := func(x float64) Value { return Value{Number: x, Unit: DimML} }
	for _, c := range []struct {
		topic Topic
		value Value
		want  string // in the error; "" none
	}{
		{LoadedAmount, ml(930), ""},
		{LoadedAmount, ml(-930), "preload.amount: value.number must not be below 0"},
		{LoadedAmount, Value{Number: 930, Unit: DimG}, ""},
		{LoadedAmount, Value{Number: 930}, "value.unit must be ml or g"},
		{LoadedAmount, Value{Unknown: true}, ""},
		{LoadedAmount, Value{Number: 930, Unit: DimML, AtC: &warm}, ""},
		{LoadedAmount, Value{Number: 930, Unit: DimML, AtC: &glowing}, "value.at_c must be"},
		{LoadedAmount, Value{Number: 930, Unit: DimG, AtC: &warm}, "value.at_c belongs to a volume"},
		{DrainedAmount, Value{Number: 830, Unit: DimML, Parts: []float64{500, 330}}, ""},
		{DrainedAmount, Value{Number: 831, Unit: DimML, Parts: []float64{500, 330}}, "value.number must be the sum of its parts, 830, not 831"},
		{DrainedAmount, Value{Number: 792, Unit: DimG, Parts: []float64{1512, -720}}, ""},
		{Capacity, ml(-5), "prepare.capacity: value.number must not be below 0"},
		{Capacity, Value{Number: 900, Unit: DimC}, `value.unit must be ml, not "C"`},
		{Capacity, Value{Number: 900, High: 1000, Unit: DimML}, ""},
		{Capacity, Value{Number: 900, High: 800, Unit: DimML}, "value.high must not be below number"},
		{OilTemperature, Value{Number: -12, Unit: DimC}, ""},
		{OilTemperature, Value{Number: 900, Unit: DimC}, "value.number must be -60 to 300"},
		{Decision, Value{Choice: "accept", Number: -11, Unit: DimML}, ""}, // the difference it was made for
		{Remark, Value{Text: "x"}, ""},
		{LoadedAmount, Value{Choice: "of_another_version"}, ""},
		{Undo, Value{}, ""},
	} {
		err := Entry{Seq: 1, Topic: c.topic, Value: c.value}.CheckSense()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v %+v: %v, want %q", c.topic, c.value, err, c.want)
		}
	}
}
