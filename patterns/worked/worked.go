// Package worked tells rows apart by what is done in them, and not by how they are
// written.
package worked
