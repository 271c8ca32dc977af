"""Numbers and dates as people say them. The only room where a share becomes a percent."""
