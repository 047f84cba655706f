"""`python -m phasewright` and the `phasewright` program."""

from __future__ import annotations

import sys


def main() -> None:
    """Run the command line and leave with its exit status."""
    try:
        from phasewright.command.app import run

        status = run(sys.argv[1:])
    except KeyboardInterrupt:
        status = 130
    sys.exit(status)


if __name__ == "__main__":
    main()
