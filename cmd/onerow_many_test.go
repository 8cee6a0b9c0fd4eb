//go:build sessions

package cmd

// rowSessions is how many random sessions are worked.
const rowSessions = 1000
