"""Reckons and publishes the handbook of a school band's concert cycle."""
