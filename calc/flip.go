package calc

import "linetender/calc/job"

func measures(c job.Case, o weighed) []Measure { return nil }
func changes(c job.Case, o weighed) []Change   { return nil }
