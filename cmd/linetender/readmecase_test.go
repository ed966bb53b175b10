package main

import (
	"os"
	"reflect"
	"strings"
	"testing"

	"linetender/calc/job"
)

// TestReadmeHasTheWholeCase holds the README to every field that a case may
// have and every word that one takes.
func TestReadmeHasTheWholeCase(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, part, ok := strings.Cut(string(text), "### What a case may hold")
	part, _, end := strings.Cut(part, "\n## ")
	if !ok || !end {
		t.Fatal("the README has no part on what a case may hold")
	}
	fields := 0
	var walk func(reflect.Type)
	seen := map[reflect.Type]bool{}
	walk = func(typ reflect.Type) {
		for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
			typ = typ.Elem()
		}
		if typ.Kind() != reflect.Struct || seen[typ] {
			return
		}
		seen[typ] = true
		for i := range typ.NumField() {
			f := typ.Field(i)
			name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
			if name == "-" {
				continue
			}
			if fields++; !strings.Contains(part, "`"+name+"`") {
				t.Errorf("%s.%s is not told of", typ.Name(), name)
			}
			walk(f.Type)
		}
	}
	walk(reflect.TypeFor[job.Sheet]())
	if fields < 100 {
		t.Fatalf("only %d fields were found, so the test says little", fields)
	}
	for _, words := range [][]string{job.MassFroms, job.SlopeFroms, job.Pulls, job.Depths, job.TowPoints, job.RatingKinds, job.PullerKinds, job.Hitches,
		job.HaulFroms, job.Sheaves, job.AnchorKinds, job.AnchorUses, job.Patterns, job.Soils, job.GearKinds, job.GearUses, job.Materials,
		job.Conditions, job.SlingHitches, job.HazardKinds, job.SeenWhats, job.SeenAts} {
		for _, w := range words {
			if !strings.Contains(part, "`"+w+"`") {
				t.Errorf("the word %s is not told of", w)
			}
		}
	}
}
