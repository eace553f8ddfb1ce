"""Live readings, and readings from files, in the window."""
