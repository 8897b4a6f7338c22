"""Known routes in the window: which collections are in use, added with progress, removed; the nearest known route."""
