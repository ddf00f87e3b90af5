package discordtest

import (
	"net/http"
	"time"
)

// gateway: documentation, "Gateway", get gateway.
func (c *call) gateway() (int, any, *refusal) {
	return http.StatusOK, map[string]any{"url": "ws://" + c.s.addr}, nil
}

// gatewayBot: documentation, "Gateway", get gateway bot.
func (c *call) gatewayBot() (int, any, *refusal) {
	s := c.s
	s.mu.Lock()
	defer s.mu.Unlock()
	day := 24 * time.Hour
	return http.StatusOK, map[string]any{
		"url": "ws://" + s.addr, "shards": s.opt.Shards,
		"session_start_limit": map[string]any{
			"total": max(1000, s.opt.Identifies), "remaining": s.gate.left, "reset_after": day.Milliseconds(), "max_concurrency": s.opt.MaxConcurrency,
		},
	}, nil
}

func (c *call) me() (int, any, *refusal) { return http.StatusOK, c.s.bot(), nil }

// application: documentation, "Application", application object: what a bot needs of it.
func (c *call) application() (int, any, *refusal) {
	s := c.s
	return http.StatusOK, map[string]any{
		"id": s.app, "name": s.opt.Name, "icon": nil, "description": "", "bot": s.bot(), "flags": 0,
		"bot_public": true, "bot_require_code_grant": false, "verify_key": "", "rpc_origins": []string{},
	}, nil
}

// openDM: documentation, "User", create DM. It succeeds where she takes no messages,
// too: it is the message that is refused.
func (c *call) openDM() (int, any, *refusal) {
	s := c.s
	o, ok := parse(c.json)
	if !ok {
		return 0, nil, badJSON()
	}
	f := &form{}
	id := f.id(o, "", "recipient_id")
	if id == "" && f.errors == nil {
		f.required("recipient_id")
	}
	if no := f.refusal(); no != nil {
		return 0, nil, no
	}
	s.mu.Lock()
	p := s.people.persons[id]
	s.mu.Unlock()
	if p == nil {
		return 0, nil, &refusal{status: http.StatusBadRequest, code: 50033, message: "Invalid Recipient(s)"}
	}
	dm := s.DM(p)
	return http.StatusOK, wireChannel{ID: dm.ID, Type: 1, Recipients: []wireUser{p.wire()}}, nil
}
