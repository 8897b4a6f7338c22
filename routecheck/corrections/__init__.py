"""The likely-intended corrections: scoring, choice and silence."""
