"""Training: entry errors planted in clean routes."""
