"""The Margin: the findings and what can be done about them."""
