package cmd

// storedSettings reads the settings kept in the store.
func (a *app) storedSettings() map[string]string { return nil }
