package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"
)

func newVersion(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "version",
		Short:   "Print which build this is",
		Long:    "Print the version, the commit it was built from where the build knows it, and the Go release and platform it was built for.",
		Example: "  linetender version",
		Args:    noArgs,
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(s.out, versionLine(buildInfo()))
			return err
		},
	}
}

// buildInfo is what the build says of itself; empty where it says nothing.
func buildInfo() *debug.BuildInfo {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		info = &debug.BuildInfo{}
	}
	return info
}

// versionLine words what the build says of itself. A build outside a work
// tree knows no commit, and then none is named.
func versionLine(info *debug.BuildInfo) string {
	version := info.Main.Version
	if version == "" || version == "(devel)" {
		version = "development build"
	}
	commit, changed := "", ""
	for _, s := range info.Settings {
		switch s.Key {
		case "vcs.revision":
			commit = ", commit " + s.Value
		case "vcs.modified":
			if s.Value == "true" {
				changed = " with changes"
			}
		}
	}
	goVersion := info.GoVersion
	if goVersion == "" {
		goVersion = runtime.Version()
	}
	return fmt.Sprintf("linetender %s%s%s, %s for %s/%s", version, commit, changed, goVersion, runtime.GOOS, runtime.GOARCH)
}
