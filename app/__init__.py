"""The dashboard shows what was published."""
