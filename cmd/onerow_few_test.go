//go:build !sessions

package cmd

// rowSessions is how many random sessions are worked; the tag sessions takes more.
const rowSessions = 6
