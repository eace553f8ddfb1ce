"""Seals a report with a digital signature, and says of any report what its seals are worth."""
