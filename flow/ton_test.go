package flow

import "testing"

// TestWithTon: every ton that is not said which becomes the one that was meant.
func TestWithTon(t *testing.T) {
	for _, tc := range []struct{ said, which, want string }{
		{"3 ton", "t", "3 t"},
		{"2 ton + half a ton", "t", "2 t + half a t"},
		{"2tons + 1/2 ton", "short ton", "2 short ton + 1/2 short ton"},
		{"2 short ton + half a ton", "long ton", "2 short ton + half a long ton"},
		{"1.8 t + 1 ton", "t", "1.8 t + 1 t"},
		{"2400 kg", "t", ""},
	} {
		if got := withTon(tc.said, tc.which); got != tc.want {
			t.Errorf("%q in %q is %q, want %q", tc.said, tc.which, got, tc.want)
		}
	}
}
