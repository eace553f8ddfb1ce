"""A company's own templates of the reports, changed in a window."""
