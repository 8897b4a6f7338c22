"""Which navigation data the window works with, and the small window that shows it."""
