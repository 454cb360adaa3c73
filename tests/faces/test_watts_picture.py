"""`watts --picture`: the file, and what is said when it cannot be written."""

import xml.etree.ElementTree as ET

import pytest


def test_the_picture_is_written_and_replaced(call, project, tmp_path):
    path = tmp_path / "watts.svg"
    for _ in range(2):
        done = call("watts", project, "--picture", path, "--no-intervals")
        assert done.exit_code == 0, done.output
    root = ET.fromstring(path.read_text("utf-8"))
    assert root.tag.endswith("svg")
    assert root.get("role") == "img"
    assert "Film cabinet" in root.find("{*}title").text
    told = call("watts", project, "--json", "--no-intervals", "--picture", path)
    assert told.exit_code == 0
    assert told.stdout.lstrip().startswith("{")


@pytest.mark.parametrize(
    ("file", "said"), [("watts.png", "ends in .svg"), ("no/watts.svg", "no folder")]
)
def test_a_picture_that_cannot_be_written_is_said_before_the_work(
    call, project, tmp_path, file, said
):
    done = call("watts", project, "--picture", tmp_path / file)
    assert done.exit_code == 2
    assert said in " ".join(done.stderr.split())
    assert done.stdout == ""
