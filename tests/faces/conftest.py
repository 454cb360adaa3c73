"""Sheets and a runner for the tests of the command line."""

from pathlib import Path

import pytest
from typer.testing import CliRunner

from coldwright.faces.cli.app import app

SAVED = Path(__file__).resolve().parents[1] / "sheet" / "saved"


@pytest.fixture(autouse=True)
def _eighty_columns(monkeypatch):
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("NO_COLOR", raising=False)


@pytest.fixture
def call():
    """Run a command in this process: `call("verdict", path)` gives exit code, stdout, stderr."""

    def called(*arguments, **more):
        return CliRunner().invoke(app, [str(one) for one in arguments], **more)

    return called


@pytest.fixture
def project(tmp_path, call):
    """A project folder of the default kind, made by the command itself."""
    made = call("new", tmp_path / "project", "--kind", "box", "--title", "Film cabinet")
    assert made.exit_code == 0, made.output
    return tmp_path / "project"
