"""Reading: words, rows and positions that cannot be read or cannot be true."""
