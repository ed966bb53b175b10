package main

import (
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"linetender/calc"
	"linetender/calc/job"
	"linetender/flow/picture"
	"linetender/flow/report"
)

// writePictures writes the pictures of a plan and its card into a folder, which
// is made if it is not there. A plan that refers the job has a card and no
// pictures, and pictures of an earlier plan are taken away: they must not be
// found beside a card that says otherwise.
func writePictures(c *cobra.Command, dir string, plan calc.Plan, facts job.Case) error {
	card := report.Card{Plan: plan, Numbers: picture.Numbers(plan), Bite: calc.Bite(facts, plan).Load}
	if d := picture.Card(plan, facts); !d.Empty() {
		card.Rig = report.Picture{Title: d.Title, SVG: d.SVG(), Alt: d.Alt()}
	}
	page, err := card.HTML()
	if err != nil {
		return err
	}
	out := map[string][]byte{"card.html": page}
	for _, d := range []picture.Drawing{picture.Rig(plan, facts), picture.Force(plan)} {
		bits, err := d.PNG()
		if err != nil {
			return err
		}
		out[d.Name+".svg"], out[d.Name+".png"] = d.SVG(), bits
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return wrongCall("%s: the folder %s cannot be made; name one for the pictures that you may write to", c.CommandPath(), dir)
	}
	for name, bits := range out {
		file := filepath.Join(dir, name)
		if bits == nil {
			if err := os.Remove(file); err != nil && !os.IsNotExist(err) {
				return wrongCall("%s: %s is of an earlier plan and cannot be removed; name another folder for the pictures", c.CommandPath(), file)
			}
			continue
		}
		if err := os.WriteFile(file, bits, 0o644); err != nil {
			return wrongCall("%s: %s cannot be written; name a folder for the pictures that you may write to", c.CommandPath(), file)
		}
	}
	return nil
}
