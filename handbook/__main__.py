"""`python -m handbook` is the command `handbook`."""

from __future__ import annotations

from handbook.cli import main

if __name__ == "__main__":
    main()
