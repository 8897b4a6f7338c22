"""Shape: turns, detours and repeats between the points the user chose."""
