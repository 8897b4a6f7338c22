"""The only package that prints; one module a command."""
