package discordtest

import "time"

// Shot is one event of a load: a command, a press, or words.
type Shot struct {
	Person  *Person
	Channel *Channel // nil: her direct messages

	Command  string // a slash command, with Options; not checked
	Options  []Opt
	CustomID string // a press, in place of Command
	Words    string // a message, in place of both

	Tag uint64 // comes back in Shot's Hit
}

// Hit is the answer to a shot.
type Hit struct {
	Tag     uint64
	ID      string        // the event's
	Kind    int           // 4 to 9; 0 for a message in the channel
	After   time.Duration // since the dispatch was written
	Message Message       // not for deferrals and suggestions
	Lost    bool          // no answer came in time: AnswerWithin, or Wait for words
}

// OnHit sets what is called for the first answer to each shot, and when a deferral is
// filled in. It is called from many goroutines and should be quick. Set it before Fire.
func (s *Server) OnHit(f func(Hit)) { panic("TODO") }

// Fire delivers an event with as little work as can be and keeps no message of it.
// What it takes up is given back once it is answered or lost.
func (s *Server) Fire(shot Shot) { panic("TODO") }
