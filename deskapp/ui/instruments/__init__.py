"""The window's view of a company's own gauges and fans."""
