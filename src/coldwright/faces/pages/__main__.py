"""`python -m coldwright.faces.pages PROJECT [--host H] [--port N] [--no-browser]`."""

from __future__ import annotations

import argparse
import sys

from coldwright.errors import ColdwrightError
from coldwright.faces.pages.problems import problem_of
from coldwright.faces.pages.serve import LOOPBACK, serve


def main() -> None:
    """Serve what the command line names."""
    parser = argparse.ArgumentParser(prog="coldwright open")
    parser.add_argument("project", nargs="?", default=".")
    parser.add_argument("--host", default=LOOPBACK)
    parser.add_argument("--port", type=int, default=0)
    parser.add_argument("--no-browser", action="store_true")
    given = parser.parse_args()
    try:
        serve(given.project, host=given.host, port=given.port, browser=not given.no_browser)
    except ColdwrightError as error:
        print(problem_of(error).message, file=sys.stderr)
        sys.exit(3)
    except OSError as error:
        print(f"Cannot listen on {given.host}:{given.port}: {error.strerror}.", file=sys.stderr)
        sys.exit(2)


if __name__ == "__main__":
    main()
