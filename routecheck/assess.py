"""Empty until its turn."""
