"""Blocks to PDF; the only package that knows the drawing library."""
