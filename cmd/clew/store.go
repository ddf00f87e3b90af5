package main

import (
	"os"
	"path/filepath"

	"clew/session"
	"clew/session/local"
)

// storeFlags say where places are kept.
type storeFlags struct {
	Data  string `help:"The folder for the local store, and for what a chat keeps beside it: the log, and the lines you typed." placeholder:"DIR" env:"CLEW_DATA" type:"path"`
	Redis string `help:"A Redis to keep places in, instead of the local store: redis://HOST:PORT" placeholder:"URL" env:"CLEW_REDIS_URL"`
}

// A keeping is where places are kept.
type keeping struct {
	store  *session.Store
	notice func() string // what the local store had to set aside, or could not do beside its answers
	close  func() error
}

// open opens the Redis of the address, or the local store.
func (f *storeFlags) open() (*keeping, error) {
	if f.Redis != "" {
		client, err := session.Connect(f.Redis)
		if err != nil {
			return nil, usage("%w", err)
		}
		return &keeping{session.Open(client), func() string { return "" }, client.Close}, nil
	}
	dir, err := f.folder()
	if err != nil {
		return nil, err
	}
	store, err := local.Open(dir)
	if err != nil {
		return nil, err
	}
	return &keeping{session.Open(store.Client()), store.Notice, store.Close}, nil
}

// folder is where the local store lies: as given, or in the place that the
// system has for a program's data.
func (f *storeFlags) folder() (string, error) {
	if f.Data != "" {
		return f.Data, nil
	}
	if dir := os.Getenv("XDG_DATA_HOME"); filepath.IsAbs(dir) {
		return filepath.Join(dir, "clew"), nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		return "", usage("there is no home folder to keep places in; name one with --data")
	}
	return filepath.Join(home, ".local", "share", "clew"), nil
}
