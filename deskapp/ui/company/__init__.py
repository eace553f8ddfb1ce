"""The company's own ways: preferences, and what new jobs start with."""
