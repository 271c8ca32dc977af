"""Pages to print, as tagged PDF: the same sentences, charts and tables as on the screen."""
