"""Route files: clean/ must stay quiet, planted/ holds one entry error each."""
