"""Puts everything together: the command line and the window."""
