"""Readings from a stream, a log or a paste: everything but the window that shows them."""
