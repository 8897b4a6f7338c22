"""Aircraft sheets in the window: choosing, editing, keeping own ones."""
