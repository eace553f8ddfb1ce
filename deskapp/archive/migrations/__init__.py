"""Numbered steps that lift old job files to the present format."""
