"""Break the code in small ways and see whether the tests fall: `python -m tests.mutation`."""
