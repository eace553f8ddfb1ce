"""Handing out reports: issuing, the key to sign with, checking what was handed out."""
