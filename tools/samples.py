"""Put the real output of commands into the pages that show it.

A page marks the place with ``<!-- output: coldwright verdict demos/kiosk --plain -->`` before a
fenced block. `python tools/samples.py` runs each command and fills the block; with
``| until: Some words`` in the mark, only the lines before these words are shown.
"""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PAGES = (
    "README.md",
    "docs/tutorial/first-verdict.md",
    "docs/tutorial/a-week.md",
    "docs/how-to/wiring.md",
)
MARKED = re.compile(
    r"(?P<mark><!-- output: (?P<command>[^\n|]+?)(?: \| until: (?P<until>[^\n]+?))? -->\n```text\n)"
    r"(?P<shown>.*?)(?P<end>```\n)",
    re.DOTALL,
)


def output(command: str, until: str = "") -> str:
    """What a command prints, 80 columns wide, without colour; only what stands before `until`."""
    words = shlex.split(command)
    if words[0] == "coldwright":
        words = [str(Path(sys.executable).with_name("coldwright")), *words[1:]]
    ended = subprocess.run(
        words,
        cwd=ROOT,
        env=os.environ | {"COLUMNS": "80", "NO_COLOR": "1"},
        capture_output=True,
        text=True,
        check=False,
        timeout=600,
    )
    if ended.returncode != 0:
        raise RuntimeError(f"{command} ended with {ended.returncode}: {ended.stdout[:500]}")
    lines = [line.rstrip() for line in ended.stdout.strip("\n").split("\n")]
    if until:
        end = next(at for at, line in enumerate(lines) if until in line)
        lines = lines[:end]
        while not lines[-1]:
            lines.pop()
    return "\n".join(lines) + "\n"


def samples(text: str) -> list[tuple[str, str, str]]:
    """Each marked command of a page, where it is cut, and what the page shows of it."""
    return [
        (found["command"], found["until"] or "", found["shown"]) for found in MARKED.finditer(text)
    ]


def filled(text: str) -> str:
    """The page with every marked block made anew."""
    return MARKED.sub(
        lambda found: found["mark"] + output(found["command"], found["until"] or "") + found["end"],
        text,
    )


def main() -> None:
    """Fill the marked blocks of all pages."""
    for name in PAGES:
        page = ROOT / name
        text = page.read_text(encoding="utf-8")
        new = filled(text)
        if new != text:
            page.write_text(new, encoding="utf-8")
            print(f"written: {name}")


if __name__ == "__main__":
    main()
