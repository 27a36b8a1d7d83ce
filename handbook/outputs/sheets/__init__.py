"""Sheets for paper: the HTML of a template, typeset as a tagged PDF."""
