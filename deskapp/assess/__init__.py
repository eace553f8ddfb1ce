"""One pure function from a job to its assessment."""
