package apitest

func (c *chat) hasThread(id int64) bool {
	for _, m := range c.log {
		if m.thread == id {
			return true
		}
	}
	return false
}

func getChat(s *Server, p params, _ map[string]Upload) (any, error) {
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	j := c.json()
	j["accent_color_id"], j["max_reaction_count"] = 0, 11
	j["accepted_gift_types"] = map[string]any{}
	return j, nil
}

func getChatMember(s *Server, p params, _ map[string]Upload) (any, error) {
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	id := p.number("user_id")
	if id == s.me.id {
		return memberJSON(s.me, true), nil
	}
	if u, ok := c.members[id]; ok {
		return memberJSON(u, true), nil
	}
	u, ok := s.users[id]
	if !ok {
		return nil, badRequest("member not found")
	}
	return memberJSON(u, false), nil
}

func memberJSON(u *User, in bool) map[string]any {
	status := "left"
	if in {
		status = "member"
	}
	return map[string]any{"status": status, "user": u.json()}
}

func leaveChat(s *Server, p params, _ map[string]Upload) (any, error) {
	c, err := s.chatOf(p)
	if err != nil {
		return nil, err
	}
	if c.kind == "private" {
		return nil, badRequest("chat member status can't be changed in private chats")
	}
	c.botOut = true
	return true, nil
}
