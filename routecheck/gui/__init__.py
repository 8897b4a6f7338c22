"""The only package that knows Qt."""
