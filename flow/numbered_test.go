package flow_test

import (
	"slices"
	"strings"
	"testing"

	"linetender/flow"
)

// ropesOneAndTwo is a job with two ropes.
var ropesOneAndTwo = slices.Concat(basics, []string{"4x4 tractor 3.1 t on gravel, rope to the drawbar, tow ball on the pickup", "oak 50 cm, alive and sound, stands straight",
	"rope 30 m 24 mm polyester WLL 3 t, rope 60 m 28 mm polyester WLL 4 t, block 3 t WLL, two shackles 3.25 t WLL"})

// TestNumberedPiece: a piece named by its number is that one: what is changed of it is
// not asked about, and one measure put right takes nothing else off it. What was told
// damaged is good again in the words that the sentence offers, and by no others.
func TestNumberedPiece(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		say    []string
		answer string // in the last answer
		known  []string
	}{
		{[]string{"change rope 1 50 m"}, "50 m", []string{"rope 1 (50 m = 164 ft, 24 mm = 0.945 in, polyester, 3 t = 6,610 lbf, working limit)", "rope 2 (60 m"}},
		{[]string{"change rope 1 to 50 m"}, "50 m", []string{"rope 1 (50 m = 164 ft, 24 mm = 0.945 in, polyester, 3 t = 6,610 lbf, working limit)", "rope 2 (60 m"}},
		{[]string{"change rope 2 rating 5 t working"}, "5 t", []string{"rope 2 (60 m = 197 ft, 28 mm = 1.1 in, polyester, 5 t", "rope 1 (30 m"}},
		{[]string{"change rope 2 diameter 26 mm"}, "26 mm", []string{"rope 2 (60 m = 197 ft, 26 mm = 1.02 in, polyester, 4 t"}},
		{[]string{"rope 1 is damaged", "rope 1 good"}, "rope 1 good, Gary checked it", []string{"rope 1 (30 m = 98.4 ft, 24 mm = 0.945 in, polyester, 3 t = 6,610 lbf, working limit, damaged)"}},
		{[]string{"rope 1 is damaged", "Ada checked rope 1, good"}, "rope 1 good, Gary checked it", []string{"working limit, damaged)"}},
		{[]string{"rope 1 is damaged", "rope 1 good, Gary checked it"}, "Gary looked it over", []string{"working limit, good)", "rope 2 (60 m = 197 ft, 28 mm = 1.1 in, polyester, 4 t = 8,810 lbf, working limit)"}},
		{[]string{"rope 1 is damaged", "Gary checked rope 1, good"}, "Gary looked it over", []string{"working limit, good)"}},
		{[]string{"rope 1 is damaged", "change rope 1 good, Gary checked it"}, "Gary looked it over", []string{"working limit, good)"}},
		{[]string{"rope 1 is damaged", "rope 1 no good, Gary checked it"}, "", []string{"working limit, damaged)"}},
		{[]string{"rope 1 is damaged", "Gary checked rope 2, good"}, "", []string{"working limit, damaged)"}},
		{[]string{"change rope 2 condition unknown", "rope 2 good"}, "good", []string{"4 t = 8,810 lbf, working limit, good)"}},
	} {
		c := after(t, ropesOneAndTwo...)
		got := ""
		for _, l := range tc.say {
			got = textOf(c.say(l))
		}
		if !strings.Contains(got, tc.answer) {
			t.Errorf("%q is answered\n%s\nwithout %q", tc.say, got, tc.answer)
		}
		is := known(c)
		for _, k := range tc.known {
			if !strings.Contains(is, k) {
				t.Errorf("%q leaves\n%s\nwithout %q", tc.say, is, k)
			}
		}
	}
}

// TestANumberIsGivenOnce: what stays on the list keeps its number, and what comes has one
// that no other piece of the job had.
func TestANumberIsGivenOnce(t *testing.T) {
	flow.Lone(t)
	for _, tc := range []struct {
		say        []string
		known, not []string
	}{
		{[]string{"remove rope 1"}, []string{"rope 2 (60 m"}, []string{"rope 1"}},
		{[]string{"remove rope 1", "another rope 50 m WLL 3.1 t"}, []string{"rope 2 (60 m", "rope 3 (50 m"}, []string{"rope 1"}},
		{[]string{"remove rope 2", "another rope 50 m WLL 3.1 t"}, []string{"rope 1 (30 m", "rope 3 (50 m"}, []string{"rope 2"}},
		{[]string{"another rope 50 m WLL 3.1 t", "remove rope 2", "remove rope 1", "remove rope 3", "another rope 51 m WLL 3.1 t"}, []string{"rope 4 (51 m"}, []string{"rope 3"}},
		{[]string{"remove rope 1", "rope 2 is damaged"}, []string{"rope 2 (60 m = 197 ft, 28 mm = 1.1 in, polyester, 4 t = 8,810 lbf, working limit, damaged)"}, []string{"rope 1"}},
	} {
		c := after(t, ropesOneAndTwo...)
		for _, l := range tc.say {
			c.say(l)
		}
		is := known(c)
		for _, k := range tc.known {
			if !strings.Contains(is, k) {
				t.Errorf("%q leaves\n%s\nwithout %q", tc.say, is, k)
			}
		}
		for _, k := range tc.not {
			if strings.Contains(is, k) {
				t.Errorf("%q leaves\n%s\nwith %q", tc.say, is, k)
			}
		}
	}
}
