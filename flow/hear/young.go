package hear

import (
	"regexp"
	"strconv"
	"strings"
)

// grownUp is the age from which somebody may have a part.
//
// Source: common practice.
const grownUp = 18

// youngAge reports whether words give an age under which nobody has a part, and
// whether they give one at all.
func youngAge(low string) (young, told bool) {
	m := danger["aged"].FindStringSubmatch(decimal.ReplaceAllString(low, "#"))
	if m == nil {
		return false, false
	}
	n, err := strconv.Atoi(m[1])
	return err == nil && 3 < n && n < grownUp, err == nil && n > 3
}

// decimal is a figure that is nobody's age: "the shackles are 4.75t".
var decimal = regexp.MustCompile(`\d+[.,]\d+`)

// YoungOf is the same of what a message says of somebody by name.
func YoungOf(text, name string) (young, told bool) {
	return youngOf((&dangerReading{names: []string{name}}).mark(Lowered(text)))
}

// youngOf is the same of words in which a sign stands for a name.
func youngOf(named string) (young, told bool) {
	m := danger["nameage"].FindStringSubmatch(named)
	switch {
	case m == nil:
		return danger.in("minor", named), false
	case !strings.HasPrefix(m[1], "a"):
		young, told = youngAge(m[1])
		return young || danger.in("minor", named), told
	}
	return true, true
}

// IsYoung reports whether what a list of people says of one of them makes them
// under age; named is whether more than one word is said.
func IsYoung(one string, named bool) bool {
	low := Lowered(one)
	young, told := youngAge(low)
	return !danger.in("kidless", low) && (danger.in("minor", low) || young && (named || danger.in("akin", low)) || danger.in("akin", low) && !told)
}

// IsKin reports whether words are what somebody under age is called who is not
// named.
func IsKin(words string) bool { return danger.in("akin", strings.ToLower(words)) }

// Drinkers returns, as it was written, how many of a crew are said to have been
// drinking: the one of "5 but one had a few pints". It is empty where nobody is.
func Drinkers(text string) string {
	low := Lowered(text)
	if danger.in("nobodydrinks", low) {
		return ""
	}
	m := danger["drinkers"].FindStringSubmatch(low)
	if m == nil {
		return ""
	}
	return strings.Join(m[1:], "")
}

// Sobered reports whether words say that somebody is fit after all.
func Sobered(text string) bool { return danger.in("sobered", Lowered(text)) }
