"""Pictures in the window: taking them in, marking them, and the sketch of the house."""
