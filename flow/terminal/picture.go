package terminal

import (
	"context"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"

	"linetender/flow"
)

var plainName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9-]*$`)

// shows writes what m shows to files and adds to m what a terminal says of
// them: the caption, what a picture says in words, and where the file is. It
// returns what was made.
func (t *Terminal) shows(ctx context.Context, m *flow.Message) (made []flow.Shown) {
	for _, s := range m.Shows {
		caption := s.Caption
		if caption == "" {
			caption = word("something")
		}
		shown, ok := t.render(ctx, s)
		if !ok {
			m.Parts = append(m.Parts, flow.Said{Key: "picture.undrawn", Text: word("undrawn", caption)})
			continue
		}
		made = append(made, shown)
		text := caption
		if shown.Alt != "" && shown.Alt != caption {
			text += "\n" + shown.Alt
		}
		m.Parts = append(m.Parts, flow.Said{Key: "picture.caption", Text: text})
		m.Parts = append(m.Parts, flow.Said{Key: "picture.path", Text: t.keep(s, caption, shown)})
	}
	return made
}

// render makes what is to be shown, unless its name would lead to another
// folder. Why it failed is for the operator, whom the maker tells.
func (t *Terminal) render(ctx context.Context, s flow.Show) (flow.Shown, bool) {
	if t.Render == nil || !plainName.MatchString(s.Job) || !plainName.MatchString(s.What) {
		return flow.Shown{}, false
	}
	made, err := t.Render(ctx, s)
	return made, err == nil && len(made.Bytes) > 0 && plainEnding.MatchString(strings.ToLower(filepath.Ext(made.Name)))
}

// keep writes what was made and says where.
func (t *Terminal) keep(s flow.Show, caption string, made flow.Shown) string {
	name := s.Job + "-" + s.What + "-" + strconv.FormatUint(s.Entry, 10) + strings.ToLower(filepath.Ext(made.Name))
	if err := writeOnce(t.Pictures, name, made.Bytes); err != nil {
		return word("unwritten", caption, t.Pictures)
	}
	key := "picture_at"
	if !strings.HasPrefix(made.Type, "image/") {
		key = "page_at"
	}
	return word(key, filepath.Join(t.Pictures, name))
}
