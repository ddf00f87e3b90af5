package discordtest

// The permissions that a test needs by name: Discord's developer documentation,
// "Permissions", bitwise permission flags. From memory but for CreateEvents and
// PinMessages.
const (
	KickMembers         Permission = 1 << 1
	Administrator       Permission = 1 << 3
	ManageChannels      Permission = 1 << 4
	ManageGuild         Permission = 1 << 5
	AddReactions        Permission = 1 << 6
	ViewChannel         Permission = 1 << 10
	SendMessages        Permission = 1 << 11
	ManageMessages      Permission = 1 << 13
	EmbedLinks          Permission = 1 << 14
	AttachFiles         Permission = 1 << 15
	ReadMessageHistory  Permission = 1 << 16
	MentionEveryone     Permission = 1 << 17
	UseExternalEmojis   Permission = 1 << 18
	ChangeNickname      Permission = 1 << 26
	UseCommands         Permission = 1 << 31
	ManageEvents        Permission = 1 << 33
	CreatePublicThreads Permission = 1 << 35
	SendInThreads       Permission = 1 << 38
	CreateEvents        Permission = 1 << 44
	SendVoiceMessages   Permission = 1 << 46
	PinMessages         Permission = 1 << 51
)
