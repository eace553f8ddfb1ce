"""Makes a drawn report fit for keeping: archival, accessible, with the job inside it."""
