"""Break each statistics macro on purpose and see whether its tests notice."""
