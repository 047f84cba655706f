"""`python -m phasewright` and the `phasewright` program."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    from phasewright.command.app import run

    sys.exit(run(sys.argv[1:]))


if __name__ == "__main__":
    main()
