package bot

import (
	"context"

	"clew/reader/listen"
)

// sessionsAsked are the words with which a member asks for the sessions, and when the
// next one opens. Every word counts: what else is said of sessions is the host's.
var sessionsAsked = map[string]bool{
	"sessions": true, "the sessions": true, "what sessions are there": true, "which sessions are there": true,
	"which session is open": true, "what session is open": true, "which session are we in": true,
	"when does the next session open": true, "when is the next session": true, "when does the next session start": true,
	"when does it open": true, "when does the session open": true, "next session": true, "the next session": true,
}

// asksSessions gives what serves the words, where they ask for the sessions of a
// group; else nil.
func (t *talk) asksSessions() func(context.Context) (Reply, error) {
	if t.about.Server == "" || !sessionsAsked[bare(t.ask.Words)] {
		return nil
	}
	t.heard = listen.Heard{Intent: listen.Where, Sure: true}
	return func(context.Context) (Reply, error) { return t.say(t.sessionsWords()), nil }
}

// sessionsWords tells a member which session is open, and when the next one opens.
func (t *talk) sessionsWords() string {
	if len(t.about.Sessions) == 0 {
		return capital(titleOf(t.about)) + " has no sessions: all of it is open."
	}
	said := "No session has opened yet. "
	next := t.nextOpens(t.about)
	if open, ok := t.about.Opened(t.now()); ok {
		said = capital(sessionName(open, sessionTitleMost)) + " is open. "
		if next == "" {
			next = "It is the last one."
		}
	}
	return said + next
}
