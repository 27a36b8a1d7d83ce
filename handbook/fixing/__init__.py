"""Mends what can be mended in one way alone, in the author's own files."""
