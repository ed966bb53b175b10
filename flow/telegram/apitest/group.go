package apitest

import "time"

// Group is a group chat with the bot in it.
type Group struct {
	server *Server
	chat   *chat
}

// Group starts a basic group, which has a negative id, with by as its first member, who adds the
// bot. The bot gets a my_chat_member update and the service message.
func (s *Server) Group(id int64, title string, by *User) *Group {
	s.mu.Lock()
	defer s.mu.Unlock()
	c := &chat{id: id, kind: "group", title: title, members: map[int64]*User{by.id: by}, ids: &s.lastID, botOut: true}
	s.chats[id] = c
	g := &Group{s, c}
	g.add(by)
	return g
}

// Chat is the id of the group.
func (g *Group) Chat() int64 { return g.chat.id }

// Seat is a user's place in the group; a user who is not in it yet joins first.
func (g *Group) Seat(u *User) *Seat {
	s := g.server
	s.mu.Lock()
	defer s.mu.Unlock()
	if _, in := g.chat.members[u.id]; !in {
		g.chat.members[u.id] = u
		g.service(u, "new_chat_members", []any{u.json()})
	}
	return &Seat{user: u, chat: g.chat}
}

// Add brings the bot back into the group.
func (g *Group) Add(by *User) {
	g.server.mu.Lock()
	defer g.server.mu.Unlock()
	g.add(by)
}

func (g *Group) add(by *User) {
	if !g.chat.botOut {
		return
	}
	g.chat.botOut = false
	g.member(by, "left", "member")
	g.service(by, "new_chat_members", []any{g.server.me.json()})
}

// Kick removes the bot from the group.
func (g *Group) Kick(by *User) {
	g.server.mu.Lock()
	defer g.server.mu.Unlock()
	g.member(by, "member", "kicked")
	g.chat.botOut = true
}

// Title renames the group, which is a service message.
func (g *Group) Title(by *User, title string) Sent {
	g.server.mu.Lock()
	defer g.server.mu.Unlock()
	g.chat.title = title
	return g.service(by, "new_chat_title", title)
}

// OtherBotSpoke makes bare commands in the group go to another bot, which has spoken last.
func (g *Group) OtherBotSpoke() {
	g.server.mu.Lock()
	defer g.server.mu.Unlock()
	g.chat.botLast = false
}

// Migrate upgrades the group to a supergroup, with a new id; calls to the old one are refused
// and name the new one.
func (g *Group) Migrate(by *User) *Group {
	s := g.server
	s.mu.Lock()
	defer s.mu.Unlock()
	old := g.chat
	to := &chat{id: -1_000_000_000_000 + old.id, kind: "supergroup", title: old.title, members: old.members, ids: new(int64), botLast: old.botLast}
	s.chats[to.id] = to
	up := &Group{s, to}
	g.service(by, "migrate_to_chat_id", to.id)
	old.movedTo = to.id
	up.service(by, "migrate_from_chat_id", old.id)
	return up
}

func (g *Group) service(by *User, name string, value any) Sent {
	m := g.chat.add(&message{kind: "service", from: by, content: map[string]any{name: value}})
	return Sent{m.id, g.server.tell("message", m)}
}

func (g *Group) member(by *User, was, is string) {
	g.server.pushMember(g.chat, by, was, is)
}

func (s *Server) pushMember(c *chat, by *User, was, is string) {
	state := func(status string) map[string]any {
		j := map[string]any{"status": status, "user": s.me.json()}
		if status == "kicked" {
			j["until_date"] = 0
		}
		return j
	}
	s.push("my_chat_member", map[string]any{
		"chat": c.json(), "from": by.json(), "date": time.Now().Unix(),
		"old_chat_member": state(was), "new_chat_member": state(is),
	})
}

// Block makes the user block the bot: it gets one last update, and 403 from then on.
func (u *User) Block() { u.block(true, "member", "kicked") }

// Unblock takes a block back.
func (u *User) Unblock() { u.block(false, "kicked", "member") }

func (u *User) block(on bool, was, is string) {
	seat := u.Private()
	u.server.mu.Lock()
	defer u.server.mu.Unlock()
	seat.chat.blocked = on
	u.server.pushMember(seat.chat, u, was, is)
}
