"""The catalogs of words: where they are, how they are compiled, what they are gathered from."""
