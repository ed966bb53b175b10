package flow

import "testing"

func TestBareFigure(t *testing.T) {
	for text, want := range map[string]bool{
		"3 deg": true, "3°": true, "5t": true, "bout 2 t": true, "2.4": true, "48 in or so": true,
		"no wait its 3 ton": false, "change slope 3 deg": false, "three ton": false, "slope is 3 deg": false, "": false,
	} {
		if got := bareFigure(text); got != want {
			t.Errorf("%q is bare: %v, want %v", text, got, want)
		}
	}
}
