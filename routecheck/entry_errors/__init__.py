"""Entry errors backwards: which words a typed word may have been meant to be, and how unlikely each slip is. Pure."""
