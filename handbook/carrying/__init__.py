"""The files of the next cycle and of the next school year, made of the last ones."""
