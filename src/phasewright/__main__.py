"""`python -m phasewright` and the `phasewright` program."""

from __future__ import annotations

import gc
import sys

SELDOM = (50_000, 20, 100)
"""How often the program looks for circles of things that nothing holds any more: its data are
frozen trees, in which there are hardly any, and looking took a twelfth of a study."""


def main() -> None:
    """Run the command line and leave with its exit status."""
    gc.set_threshold(*SELDOM)
    try:
        from phasewright.command.app import run

        status = run(sys.argv[1:])
    except KeyboardInterrupt:
        status = 130
    sys.exit(status)


if __name__ == "__main__":
    main()
