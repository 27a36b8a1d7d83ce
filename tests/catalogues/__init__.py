"""The catalogues of messages, held against the code that says them."""
