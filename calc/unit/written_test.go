package unit_test

import (
	"math"
	"testing"

	"linetender/calc/unit"
)

func TestWritten(t *testing.T) {
	for _, c := range []struct {
		v                  float64
		to                 func(float64) float64
		full, short, grand string
	}{
		{0, math.Ceil, "0", "0", "0"},
		{12.0000000001, math.Ceil, "12.0", "12", "12.0"},
		{12.01, math.Ceil, "12.1", "12.1", "12.1"},
		{12.09, math.Floor, "12.0", "12", "12.0"},
		{-12345, math.Ceil, "-12300", "-12300", "-12,300"},
		{1234567, math.Floor, "1230000", "1230000", "1,230,000"},
		{0.00401, math.Ceil, "0.00401", "0.00401", "0.00401"},
		{999.5, math.Ceil, "1000", "1000", "1,000"},
	} {
		full := unit.Figures(c.v, 3, c.to)
		if full != c.full || unit.Short(full) != c.short || unit.Thousands(full) != c.grand {
			t.Errorf("%v: %q, short %q, set apart %q; want %q, %q, %q", c.v, full, unit.Short(full), unit.Thousands(full), c.full, c.short, c.grand)
		}
	}
}
