package guide

// This file checks which values an import refuses, field by field.

import (
	"strings"
	"testing"

	"garage/tundish/model/job"
)

func TestFalseWord13ValuesThatCannotBeMeant(t *testing.T) {
	warm, glowing := 38.0, 900.0
	ml := func(x float64) job.Value { return job.Value{Number: x, Unit: job.DimML} }
	for _, c := range []struct {
		topic job.Topic
		value job.Value
		want  string // in the error; "" none
	}{
		{job.LoadedAmount, ml(930), ""},
		{job.LoadedAmount, ml(-930), "preload.amount: value.number must not be below 0"},
		{job.LoadedAmount, job.Value{Number: 930, Unit: job.DimG}, ""},
		{job.LoadedAmount, job.Value{Number: 930}, "value.unit must be ml or g"},
		{job.LoadedAmount, job.Value{Unknown: true}, ""},
		{job.LoadedAmount, job.Value{Number: 930, Unit: job.DimML, AtC: &warm}, ""},
		{job.LoadedAmount, job.Value{Number: 930, Unit: job.DimML, AtC: &glowing}, "value.at_c must be"},
		{job.LoadedAmount, job.Value{Number: 930, Unit: job.DimG, AtC: &warm}, "value.at_c belongs to a volume"},
		{job.DrainedAmount, job.Value{Number: 830, Unit: job.DimML, Parts: []float64{500, 330}}, ""},
		{job.DrainedAmount, job.Value{Number: 831, Unit: job.DimML, Parts: []float64{500, 330}},
			"value.number must be the sum of its parts, 830, not 831"},
		{job.DrainedAmount, job.Value{Number: 792, Unit: job.DimG, Parts: []float64{1512, -720}}, ""},
		{job.Capacity, ml(-5), "prepare.capacity: value.number must not be below 0"},
		{job.Capacity, job.Value{Number: 900, Unit: job.DimC}, `value.unit must be ml, not "C"`},
		{job.Capacity, job.Value{Number: 900, High: 1000, Unit: job.DimML}, ""},
		{job.Capacity, job.Value{Number: 900, High: 800, Unit: job.DimML}, "value.high must not be below number"},
		{job.OilTemperature, job.Value{Number: -12, Unit: job.DimC}, ""},
		{job.OilTemperature, job.Value{Number: 900, Unit: job.DimC}, "value.number must be -60 to 300"},
		{job.Decision, job.Value{Choice: "accept", Number: -11, Unit: job.DimML}, ""}, // the difference it was made for
		{job.Remark, job.Value{Text: "x"}, ""},
		{job.LoadedAmount, job.Value{Choice: "of_another_version"}, ""},
		{job.Undo, job.Value{}, ""},
	} {
		err := job.Entry{Seq: 1, Topic: c.topic, Value: c.value}.CheckSense()
		if (err == nil) != (c.want == "") || err != nil && !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v %+v: %v, want %q", c.topic, c.value, err, c.want)
		}
	}
}
