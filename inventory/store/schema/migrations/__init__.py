"""Schema steps. Loaded only where a store is made or brought up to date."""
