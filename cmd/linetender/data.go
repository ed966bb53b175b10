package main

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode"

	"github.com/adrg/xdg"
	"github.com/spf13/cobra"
)

const dataEnv = "LINETENDER_DATA"

// dataFlag adds --data to a command that keeps or reads data.
func dataFlag(c *cobra.Command, dir *string) {
	c.Flags().StringVar(dir, "data", "", "keep the jobs in `DIR` (default: "+dataEnv+", else the platform's data folder)")
	_ = c.MarkFlagDirname("data")
}

// dataFolder returns the folder that holds the store: the flag, else the
// environment, else the platform's place for a user's data. It makes nothing.
func dataFolder(c *cobra.Command, flag string) (string, error) {
	dir := flag
	if c.Flags().Changed("data") && dir == "" {
		return "", wrongCall("%s: --data is empty; name a folder, such as --data ./sessions", c.CommandPath())
	}
	if dir == "" {
		dir = os.Getenv(dataEnv)
	}
	if dir == "" {
		dir = usualFolder()
	}
	abs, err := filepath.Abs(dir)
	if err != nil {
		return "", err
	}
	info, err := os.Stat(abs)
	if err == nil && !info.IsDir() {
		return "", wrongCall("%s: %s is a file; name a folder for the data", c.CommandPath(), abs)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return "", err
	}
	return abs, nil
}

// usualFolder is the platform's place for a user's data.
func usualFolder() string {
	// The environment may have been set after the library read it.
	xdg.Reload()
	return filepath.Join(xdg.DataHome, "linetender")
}

// joinCommand is what is typed at another terminal, whose environment may be
// another, to come into a job that is kept in dir.
func joinCommand(dir string) func(code string) string {
	return func(code string) string {
		if dir == usualFolder() {
			return "linetender join " + code
		}
		return "linetender join " + code + " --data " + shellWord(dir)
	}
}

// shellWord writes a text so that a shell reads it as one word.
func shellWord(text string) string {
	if strings.ContainsFunc(text, func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("/._-+,:@%", r)
	}) {
		return "'" + strings.ReplaceAll(text, "'", `'\''`) + "'"
	}
	return text
}
