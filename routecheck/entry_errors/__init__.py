"""Entry errors backwards: which words a typed one may have been meant to be, and how unlikely each error is."""
