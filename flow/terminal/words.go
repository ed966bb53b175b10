package terminal

import (
	_ "embed"
	"fmt"

	"github.com/BurntSushi/toml"
)

// The few sentences that only a terminal needs: paths, and what can't be
// read from the disk.
//
//go:embed en.toml
var english string

var words = readWords()

func readWords() map[string]string {
	var w map[string]string
	if _, err := toml.Decode(english, &w); err != nil {
		panic("terminal: built-in words: " + err.Error())
	}
	return w
}

func word(key string, args ...any) string {
	w, ok := words[key]
	if !ok {
		panic("terminal: no words for " + key)
	}
	return fmt.Sprintf(w, args...)
}
