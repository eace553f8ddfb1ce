"""`python -m deskapp`: the same as the command `ductfolio`."""

import sys

from deskapp.app.cli import main

if __name__ == "__main__":
    if getattr(sys, "frozen", False):
        # The packaged program starts itself again for each process of its own.
        from multiprocessing import freeze_support

        freeze_support()
    raise SystemExit(main())
