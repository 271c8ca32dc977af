"""Pages read like a contents list: choose, fetch, show."""
