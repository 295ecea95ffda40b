package quantity_test

import (
	"math"
	"testing"

	"swapworth/quantity"
)

func TestNumbersAreRoundedForReading(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{quantity.Number(1234.567, 4), "1235"},
		{quantity.Number(123456.7, 3), "123457"},
		{quantity.Number(0.0123456, 3), "0.0123"},
		{quantity.Number(9.996, 3), "10.0"},
		{quantity.Number(-0.00001234, 3), "-1.23e-05"},
		{quantity.Number(0, 3), "0"},
		{quantity.Number(math.NaN(), 3), quantity.Missing},
		{quantity.Fixed(-0.0001, 2), "0.00"},
		{quantity.Short(70, 4), "70"},
		{quantity.Short(0.500, 3), "0.5"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
