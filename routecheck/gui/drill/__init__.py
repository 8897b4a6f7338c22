"""The window in which a trainee goes through a drill."""
