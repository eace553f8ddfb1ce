"""Widgets that show and ask; no arithmetic, no file access."""
