"""Job files: reading, writing, migrating."""
