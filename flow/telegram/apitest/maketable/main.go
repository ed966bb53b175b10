// Command maketable boils the published Bot API down to the facts that apitest checks:
// which methods exist, which fields each takes, of which type, whether required, and how long.
// No sentence of the documentation is kept.
//
//	go run ./flow/telegram/apitest/maketable api.json > flow/telegram/apitest/testdata/botapi.txt
//
// api.json is that file of the public repository PaulSonOfLars/telegram-bot-api-spec (MIT licence).
package main

import (
	"bufio"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
)

// methods are those that the program may call, or that the tests of the server itself need.
var methods = []string{
	"getMe", "getUpdates", "setWebhook", "deleteWebhook", "getWebhookInfo",
	"sendMessage", "sendPhoto", "sendDocument", "sendLocation", "sendChatAction",
	"editMessageText", "editMessageCaption", "editMessageMedia", "editMessageReplyMarkup", "deleteMessage",
	"answerCallbackQuery", "getFile", "getChat", "getChatMember", "leaveChat",
	"setMyCommands", "getMyCommands", "deleteMyCommands",
}

// answers are the types that the server itself sends; what they are made of in turn is kept
// only as far as another entry needs it, else the table would hold nearly the whole API.
var answers = []string{
	"Update", "Message", "InaccessibleMessage", "Chat", "ChatFullInfo", "User", "CallbackQuery", "PhotoSize", "Document",
	"Voice", "Audio", "Video", "VideoNote", "Animation", "Sticker", "Location", "Venue", "Contact", "File", "WebhookInfo",
	"ResponseParameters", "ChatMemberUpdated", "ChatMember", "ChatMemberOwner", "ChatMemberAdministrator",
	"ChatMemberMember", "ChatMemberRestricted", "ChatMemberLeft", "ChatMemberBanned",
}

type field struct {
	Name        string
	Types       []string
	Required    bool
	Description string
}

type entry struct {
	Name     string
	Fields   []field
	Returns  []string
	Subtypes []string
}

type api struct {
	Version string
	Methods map[string]entry
	Types   map[string]entry
}

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "maketable: give the one JSON file to read")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Stdout); err != nil {
		fmt.Fprintln(os.Stderr, "maketable:", err)
		os.Exit(1)
	}
}

func run(path string, out io.Writer) error {
	raw, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	var a api
	if err := json.Unmarshal(raw, &a); err != nil {
		return fmt.Errorf("read %s: %w", path, err)
	}
	w := bufio.NewWriter(out)
	fmt.Fprintf(w, "# Facts of the %s that the tests check calls against: names, types, required or not, lengths.\n", a.Version)
	fmt.Fprintln(w, "# Derived by maketable from api.json of the public repository PaulSonOfLars/telegram-bot-api-spec,")
	fmt.Fprintln(w, "# commit 160fd99507e1c7c77e92dc90f5993d724735b51c (MIT licence, copyright 2020 Paul Larsen).")
	fmt.Fprintln(w, "# m METHOD RETURNS | t TYPE | u UNION MEMBERS; below it a line a field: NAME !required-or-?optional TYPE [LOW-HIGH UNIT]")
	fmt.Fprintln(w, "# (u: UTF-16 units after entities, b: bytes, n: the number itself; [] a list of).")

	types := map[string]bool{}
	for _, name := range methods {
		m, ok := a.Methods[name]
		if !ok {
			return fmt.Errorf("no method %s in %s", name, path)
		}
		fmt.Fprintf(w, "m %s %s\n", name, joinTypes(m.Returns))
		writeFields(w, m.Fields)
		for _, f := range m.Fields {
			a.close(types, f.Types)
		}
	}
	for _, name := range answers {
		if _, ok := a.Types[name]; !ok {
			return fmt.Errorf("no type %s in %s", name, path)
		}
		types[name] = true
	}
	for _, name := range slices.Sorted(maps.Keys(types)) {
		t := a.Types[name]
		if len(t.Subtypes) > 0 {
			fmt.Fprintf(w, "u %s %s\n", name, strings.Join(t.Subtypes, "|"))
			continue
		}
		fmt.Fprintf(w, "t %s\n", name)
		writeFields(w, t.Fields)
	}
	return w.Flush()
}

// close adds the named types and all that they are made of.
func (a api) close(seen map[string]bool, names []string) {
	for _, name := range names {
		name = strings.ReplaceAll(name, "Array of ", "")
		t, ok := a.Types[name]
		if !ok || seen[name] {
			continue
		}
		seen[name] = true
		a.close(seen, t.Subtypes)
		for _, f := range t.Fields {
			a.close(seen, f.Types)
		}
	}
}

var (
	length  = regexp.MustCompile(`\b(\d+-\d+) (characters|bytes)`)
	between = regexp.MustCompile(`(?:Values between|to the webhook for update delivery,) (\d+-\d+)\b`)
)

func writeFields(w io.Writer, fields []field) {
	for _, f := range fields {
		must := "?"
		if f.Required {
			must = "!"
		}
		fmt.Fprintf(w, " %s %s%s", f.Name, must, joinTypes(f.Types))
		if m := length.FindStringSubmatch(f.Description); m != nil {
			unit := "u"
			if m[2] == "bytes" {
				unit = "b"
			}
			fmt.Fprintf(w, " %s%s", m[1], unit)
		} else if m := between.FindStringSubmatch(f.Description); m != nil {
			fmt.Fprintf(w, " %sn", m[1])
		}
		fmt.Fprintln(w)
	}
}

func joinTypes(types []string) string {
	return strings.ReplaceAll(strings.Join(types, "|"), "Array of ", "[]")
}
