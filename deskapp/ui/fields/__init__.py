"""One widget for each form of field."""
