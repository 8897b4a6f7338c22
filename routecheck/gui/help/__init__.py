"""What the Help menu opens that is more than a text: the checks explained, the sample routes."""
