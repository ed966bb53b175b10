package wording

import (
	"embed"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
	"github.com/nicksnyder/go-i18n/v2/i18n"
	"github.com/nicksnyder/go-i18n/v2/i18n/template"
	"golang.org/x/text/language"

	"linetender/calc/bound"
	"linetender/calc/unit"
)

//go:embed en.toml
var files embed.FS

// A Key names one message of the file by its purpose.
type Key string

// A Book holds the messages of one language. It is safe for use by many
// goroutines at once.
type Book struct {
	words *i18n.Localizer
	ids   []Key
}

// parser makes a missing argument an error, which the library by itself
// would print.
var parser = &template.TextParser{Option: "missingkey=error"}

// English returns the messages in English. They are read once: a book never changes,
// and says the same to all who ask it at once.
func English() *Book { return english() }

var english = sync.OnceValue(func() *Book {
	b, err := load("en.toml", language.English)
	if err != nil {
		panic("wording: " + err.Error())
	}
	return b
})

func load(name string, tag language.Tag) (*Book, error) {
	bundle := i18n.NewBundle(tag)
	bundle.RegisterUnmarshalFunc("toml", toml.Unmarshal)
	file, err := bundle.LoadMessageFileFS(files, name)
	if err != nil {
		return nil, fmt.Errorf("read messages: %w", err)
	}
	b := &Book{words: i18n.NewLocalizer(bundle, tag.String())}
	for _, m := range file.Messages {
		b.ids = append(b.ids, Key(m.ID))
	}
	slices.Sort(b.ids)
	return b, nil
}

// Keys returns the keys of all messages, sorted.
func (b *Book) Keys() []Key { return slices.Clone(b.ids) }

// Has reports whether there is a message for the key.
func (b *Book) Has(k Key) bool {
	_, ok := slices.BinarySearch(b.ids, k)
	return ok
}

// Say returns the message for k with its arguments in the person's system of
// units first. An argument called Count chooses between one and many.
//
// Errors: an unknown key, a missing argument, one of another kind than its
// name has. All are slips of ours.
func (b *Book) Say(s unit.System, k Key, args Args) (string, error) {
	words := make(map[string]string, len(args))
	for name, v := range args {
		sample, ok := samples[name]
		if !ok {
			return "", fmt.Errorf("message %s: no argument is called %s", k, name)
		}
		if reflect.TypeOf(v) != reflect.TypeOf(sample) {
			return "", fmt.Errorf("message %s: argument %s is a %T and must be a %T", k, name, v, sample)
		}
		text, err := b.value(s, v)
		if err != nil {
			return "", fmt.Errorf("message %s: argument %s: %w", k, name, err)
		}
		words[name] = text
	}
	config := &i18n.LocalizeConfig{MessageID: string(k), TemplateData: words, TemplateParser: parser}
	if n, ok := args["Count"].(int); ok {
		config.PluralCount = n
	}
	text, err := b.words.Localize(config)
	if err != nil {
		return "", fmt.Errorf("message %s: %w", k, err)
	}
	return strings.TrimSpace(text), nil
}

// word returns a short message that the book itself needs. These are checked
// by a test, so a failure is a broken embedded file.
func (b *Book) word(k Key, args map[string]string) string {
	text, err := b.words.Localize(&i18n.LocalizeConfig{MessageID: string(k), TemplateData: args, TemplateParser: parser})
	if err != nil {
		panic("wording: " + err.Error())
	}
	return text
}

func (b *Book) value(s unit.System, v any) (string, error) {
	outward := [2]rounding{down, up}
	switch v := v.(type) {
	case string:
		return ownFirst(s, Plain(v)), nil
	case int:
		return strconv.Itoa(v), nil
	case Key:
		if !b.Has(v) {
			return "", fmt.Errorf("no message %s", v)
		}
		return b.Say(s, v, nil)
	case Names:
		return b.list(v, ListAnd), nil
	case Either:
		return b.list(v, ListOr), nil
	case Lines:
		lines := make([]string, len(v))
		for i, l := range v {
			lines[i] = ownFirst(s, Plain(l))
		}
		return strings.Join(lines, "\n"), nil
	case Load:
		return b.quantity(s, forceScales, v.Force.Newtons(), v.Force.Newtons(), [2]rounding{up, up}), nil
	case Limit:
		return b.quantity(s, forceScales, v.Force.Newtons(), v.Force.Newtons(), [2]rounding{down, down}), nil
	case bound.Of[unit.Force]:
		low, high := ends(v)
		return b.quantity(s, forceScales, low, high, outward), nil
	case bound.Of[unit.Mass]:
		low, high := ends(v)
		return b.quantity(s, massScales, low, high, outward), nil
	case bound.Of[unit.Length]:
		low, high := ends(v)
		return b.quantity(s, lengthScales, low, high, [2]rounding{near, near}), nil
	case unit.Length:
		return b.quantity(s, lengthScales, v.Metres(), v.Metres(), [2]rounding{up, up}), nil
	case bound.Of[unit.Angle]:
		return b.slopes(v), nil
	}
	return "", fmt.Errorf("no way to write a %T", v)
}

// list joins names, the last two by the word of the key last.
func (b *Book) list(names []string, last Key) string {
	if len(names) == 0 {
		return b.word(ListNone, nil)
	}
	text := Plain(names[0])
	for i, n := range names[1:] {
		k := last
		if i < len(names)-2 {
			k = ListComma
		}
		text = b.word(k, map[string]string{"Before": text, "Next": Plain(n)})
	}
	return text
}
