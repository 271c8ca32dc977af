"""How pages look: theme, header, cards, tables beside charts, screens for special states."""
