"""Ductfolio: from duct-leakage readings to a verdict and the paper that proves it."""
