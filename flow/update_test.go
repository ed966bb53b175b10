package flow

import "flag"

var updates = flag.Bool("update", false, "rewrite the golden conversations and the diagram")

func rewrite() bool { return *updates }

// Rewrite tells the tests outside the package.
func Rewrite() bool { return *updates }
