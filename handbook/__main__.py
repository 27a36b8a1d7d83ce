"""`python -m handbook` is the command `handbook`; in a fresh checkout it sets itself up first."""

from handbook.bootstrap import enter

if __name__ == "__main__":
    enter("handbook")

    from handbook.cli import main

    main()
