"""Leakage limits: editions read from data files, the row that applies, the judgment."""
