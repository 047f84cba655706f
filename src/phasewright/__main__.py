"""`python -m phasewright` and the `phasewright` program."""

from __future__ import annotations

import gc
import sys


def main() -> None:
    """Run the command line and leave with its exit status.

    Circles of things that nothing holds any more are not looked for: the data of a command are
    frozen trees, in which there are none to speak of, and looking took a tenth of a study. The
    page, which stays, looks for them.
    """
    gc.disable()
    try:
        from phasewright.command.app import run

        status = run(sys.argv[1:])
    except KeyboardInterrupt:
        status = 130
    gc.freeze()  # nor at the end, before all is let go
    sys.exit(status)


if __name__ == "__main__":
    main()
