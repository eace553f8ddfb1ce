"""Formulas on plain SI numbers, each with its units, range and source."""
