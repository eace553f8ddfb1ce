"""Help: topics made from the field table, the formulas, the limits and a little data."""
