"""Limits on screen: choosing one, explaining it, guarding the area, limits of one's own."""
