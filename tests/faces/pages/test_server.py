"""The pages' server: who is let in, what the answers are, what a file on disk survives."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from coldwright.answers import watts
from coldwright.faces.pages.app import create_app
from coldwright.faces.pages.guard import MOST_BYTES, Allowed
from coldwright.faces.pages.project import ChangedMeanwhile, Project
from coldwright.faces.pages.views import VIEWS
from coldwright.sheet.file import read

DEMO = Path(__file__).resolve().parents[3] / "demos" / "kiosk"
HOST = "127.0.0.1:8000"
OWN = {"host": HOST, "origin": f"http://{HOST}"}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copytree(DEMO, tmp_path / "kiosk")
    return tmp_path / "kiosk"


@pytest.fixture
def page(folder: Path) -> Any:
    app = create_app(Project(folder), Allowed(frozenset({HOST})))
    with TestClient(app, base_url=f"http://{HOST}", headers={"host": HOST}) as client:
        yield client


def test_every_page_has_its_question_and_the_headers_of_safety(page: Any) -> None:
    for view in VIEWS:
        answer = page.get(f"/{view.path}")
        assert answer.status_code == 200, view.name
        assert f"<title>{view.question}" in answer.text
        assert "default-src 'none'" in answer.headers["content-security-policy"]
        # Nothing is asked of another host: every source is a path of this one.
        for mark in ('src="http', 'href="http', "url(http", "@import"):
            assert mark not in answer.text.replace("http://www.w3.org", "")
    for name in ("app.js", "plot.js", "knobs.js", "sheet.js", "app.css"):
        held = page.get(f"/static/{name}").text
        assert "http://" not in held.replace("http://www.w3.org", "")
        assert "https://" not in held.replace('"https:"', "")


def test_the_page_and_the_program_give_the_same_numbers(page: Any, folder: Path) -> None:
    told = page.get("/api/v1/watts", params={"tries": 50}).json()
    found = watts.run(watts.Inputs(read(folder), tries=50)).to_json()
    same = json.loads(json.dumps(found))
    for name in same:
        if name not in ("file", "findings"):
            assert told[name] == same[name], name


def test_a_setting_is_the_sheet_with_it_in_it(page: Any, folder: Path) -> None:
    told = page.get("/api/v1/watts", params={"drive": 24, "hot": 0.8}).json()
    sheet = read(folder).changed(
        {"cooler.run_at": {"voltage": "24 V"}, "cooler.hot_fan_speed": 0.8}
    )
    found = watts.run(watts.Inputs(sheet, tries=0)).values
    assert told["plug_power_W"]["value"] == pytest.approx(found["plug_power_W"].value, rel=1e-9)


@pytest.mark.parametrize(
    ("headers", "method"),
    [
        ({"host": "elsewhere.example"}, "get"),
        ({"host": "127.0.0.1:9"}, "get"),
        ({"host": HOST, "origin": "http://elsewhere.example"}, "post"),
        ({"host": HOST, "origin": "null"}, "post"),
        ({"host": HOST, "sec-fetch-site": "cross-site"}, "post"),
    ],
)
def test_strangers_are_refused(page: Any, headers: dict[str, str], method: str) -> None:
    path = "/watts" if method == "get" else "/api/v1/sheet/undo"
    assert getattr(page, method)(path, headers=headers).status_code == 403


@pytest.mark.parametrize(
    "headers", [{"host": HOST}, {"host": HOST, "origin": "http://elsewhere.example"}]
)
def test_a_foreign_socket_is_refused(page: Any, headers: dict[str, str]) -> None:
    with pytest.raises(WebSocketDisconnect), page.websocket_connect("/live", headers=headers):
        pass


def test_another_machine_needs_the_token(folder: Path) -> None:
    app = create_app(Project(folder), Allowed(frozenset({HOST}), token="kept-secret"))
    with TestClient(app, base_url=f"http://{HOST}", headers={"host": HOST}) as client:
        assert client.get("/api/v1/sheet").status_code == 403
        assert client.get("/api/v1/sheet", params={"token": "guessed"}).status_code == 403
        assert client.get("/api/v1/sheet", params={"token": "kept-secret"}).status_code == 200
        assert client.get("/api/v1/sheet").status_code == 200  # its cookie now


def test_a_body_is_bounded(page: Any) -> None:
    much = {"text": "x" * (MOST_BYTES + 10), "base": ""}
    assert page.put("/api/v1/sheet", json=much, headers=OWN).status_code == 413


@pytest.mark.parametrize(
    "query", ["drive=nan", "drive=-1", "drive=1e9", "hot=x", "tries=1000000", "tries=-1"]
)
def test_numbers_are_bounded(page: Any, query: str) -> None:
    assert page.get(f"/api/v1/watts?{query}").status_code == 422


def test_a_socket_answers_and_survives_nonsense(page: Any) -> None:
    with page.websocket_connect("/live", headers=OWN) as socket:
        socket.send_text(json.dumps({"type": "live", "view": "watts", "number": 7, "drive": 24}))
        first = socket.receive_json()
        assert (first["number"], first["settled"]) == (7, False)
        assert "24.0" in first["parts"]["figures"] or first["knobs"][0]["at"] == 24.0
        settled = socket.receive_json()
        assert settled["settled"] is True
        assert "–" in settled["strip"]  # the intervals
        for nonsense in ("", "[]", "{", '{"type": 3}', "x" * 30_000, "[" * 5000):
            socket.send_text(nonsense)
            assert socket.receive_json()["type"] == "refused"
        socket.send_text(json.dumps({"type": "live", "view": "watts", "drive": "much"}))
        assert socket.receive_json()["problem"]["kind"] == "use"


def test_an_edit_keeps_comments_and_can_be_undone(folder: Path) -> None:
    project = Project(folder)
    before = project.text().text
    project.edit({"cooler.run_at.voltage": "28 V"})
    after = project.text().text
    assert 'voltage = "28 V"' in after
    assert after.count("#") == before.count("#")
    project.undo()
    assert project.text().text == before
    project.redo()
    assert project.text().text == after


def test_a_change_made_in_an_editor_is_never_lost(folder: Path) -> None:
    project = Project(folder)
    base = project.text()
    own = base.text.replace("Ticket kiosk, single duct", "Changed in an editor")
    project.file.write_text(own, encoding="utf-8")
    with pytest.raises(ChangedMeanwhile):
        project.save(base.text + "\n# from the page\n", base.version)
    assert project.text().text == own
    # An edit of single keys is made in what the file holds now.
    project.edit({"cooler.run_at.voltage": "28 V"})
    assert "Changed in an editor" in project.text().text


def test_a_broken_sheet_is_told_on_the_page(page: Any, folder: Path) -> None:
    file = folder / "sheet.toml"
    file.write_text(file.read_text(encoding="utf-8").replace('"30 V"', '"30 X"'), encoding="utf-8")
    answer = page.get("/watts")
    assert answer.status_code == 200
    assert "needs mending" in answer.text
    assert page.get("/api/v1/watts").status_code == 422


def test_keeping_a_setting_writes_it(page: Any, folder: Path) -> None:
    answer = page.post("/api/v1/sheet/keep", json={"view": "", "drive": 24}, headers=OWN)
    assert answer.status_code == 200
    assert read(folder).cooler.run_at.voltage.value == pytest.approx(24.0)
