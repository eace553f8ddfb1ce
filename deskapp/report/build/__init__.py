"""Job, assessment and template to a list of blocks."""
