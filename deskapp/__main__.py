"""`python -m deskapp`: the same as the command `ductfolio`."""

from deskapp.app.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
