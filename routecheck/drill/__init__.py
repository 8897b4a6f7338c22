"""Training: entry errors planted in clean routes. Uses slips the other way round."""
