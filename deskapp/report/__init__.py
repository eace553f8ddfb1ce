"""Reports in two steps: blocks of data, then a drawn PDF."""
