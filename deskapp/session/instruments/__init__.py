"""The register of instruments: kept in a file of its own, edited, checked, copied into jobs."""
