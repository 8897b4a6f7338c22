"""Names: words that name no place, or more than one."""
