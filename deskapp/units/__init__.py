"""Text to quantity and back; the only package that knows the unit library."""
