package discordtest

// Permission is one bit, or several, of the platform's permissions.
type Permission uint64

// Guild is a server in the platform's sense: a group's place.
type Guild struct {
	ID, Name string
}

// Channel is a text channel of a guild, or one person's direct messages with the bot.
type Channel struct {
	ID, Name string
	Guild    *Guild  // nil for direct messages
	With     *Person // whose direct messages; nil in a guild
}

// Person is a user of the platform.
type Person struct {
	ID   string
	Name string // the name that is shown
}

// Guild makes a guild that the bot is in.
func (s *Server) Guild(name string) *Guild { panic("TODO") }

// User makes a user who is in no guild yet.
func (s *Server) User(name string) *Person { panic("TODO") }

// DM is a person's direct messages with the bot.
func (s *Server) DM(p *Person) *Channel { panic("TODO") }

// Channel makes a text channel in which the bot may do all that a bot usually may.
func (g *Guild) Channel(name string) *Channel { panic("TODO") }

// Member makes a new user who is a member of the guild, with the permissions that
// everybody has and those given.
func (g *Guild) Member(name string, more ...Permission) *Person { panic("TODO") }

// Admit makes a user who is known already a member of this guild too, or gives a
// member other permissions: those that everybody has and those given.
func (g *Guild) Admit(p *Person, more ...Permission) { panic("TODO") }
