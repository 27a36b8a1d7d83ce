"""What the content lacks in a language: told, written out to be translated, taken back."""
