"""The JSON Schema for editors: it accepts what reading accepts, and refuses plain slips."""

import datetime
import json
import tomllib
from pathlib import Path

import pytest

from coldwright.quantities.parsing import parse
from coldwright.sheet.models import Sheet
from coldwright.sheet.schema import json_schema, write_schema

SAVED = sorted((Path(__file__).parent / "saved").glob("v1_*.toml"))


@pytest.fixture(scope="module")
def validator():
    jsonschema = pytest.importorskip("jsonschema")
    schema = json_schema()
    jsonschema.Draft202012Validator.check_schema(schema)
    return jsonschema.Draft202012Validator(schema)


def as_json(path):
    """TOML data as an editor's language server hands it to the schema: times become text."""
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    return json.loads(json.dumps(data, default=_text))


def _text(value):
    assert isinstance(value, datetime.time | datetime.date)
    return value.isoformat()[:5] if isinstance(value, datetime.time) else value.isoformat()


@pytest.mark.parametrize("path", SAVED, ids=lambda path: path.stem)
def test_saved_sheets_are_accepted(validator, path):
    assert [error.message for error in validator.iter_errors(as_json(path))] == []


SLIPS = [
    ("goal", "air", 27),  # a bare number
    ("goal", "aire", "27 degC"),
    ("cooler", "condensate", "gone"),
    ("cooler", "hot_takes_from", None),
    ("cooler", "run_at", "30 V"),
    ("place", "kind", "rom"),
    ("cooler", "modules", []),
]


@pytest.mark.parametrize(("table", "key", "value"), SLIPS)
def test_slips_are_refused(validator, table, key, value):
    data = as_json(Path(__file__).parent / "saved" / "v1_kiosk.toml")
    if value is None:
        del data[table][key]
    else:
        data[table][key] = value
    assert not validator.is_valid(data)


def test_quantities_are_described_with_examples():
    schema = json_schema()
    air = schema["$defs"]["Goal"]["properties"]["air"]
    text = json.dumps(air)
    assert "35 degC" in text
    assert "Air temperature of the place" in text
    assert "quantity:temperature" in text


def test_every_key_has_a_description():
    for name, table in json_schema()["$defs"].items():
        for key, field in table.get("properties", {}).items():
            if key != "kind":
                assert "description" in field or "$ref" in field, f"{name}.{key}"


def test_the_schema_knows_every_table_of_the_sheet():
    assert set(json_schema()["properties"]) == set(Sheet.model_fields)


def test_writing_gives_the_same_bytes_every_time(tmp_path):
    for name in ("one.json", "two.json"):
        write_schema(tmp_path / name)
    assert (tmp_path / "one.json").read_bytes() == (tmp_path / "two.json").read_bytes()


def test_the_written_schema_is_up_to_date():
    written = Path(__file__).parents[2] / "docs" / "reference" / "sheet.schema.json"
    assert json.loads(written.read_text(encoding="utf-8")) == json_schema()


def test_no_example_lies_beyond_what_is_usual():
    seen = 0

    def walk(value):
        nonlocal seen
        if isinstance(value, dict):
            if "usual" in value:
                kind = value["format"].removeprefix("quantity:")
                low, high = (parse(bound, kind).value for bound in value["usual"])
                example = parse(value["examples"][-1], kind).value
                assert low <= abs(example) <= high or low <= example <= high, value
                seen += 1
            for inner in value.values():
                walk(inner)
        elif isinstance(value, list):
            for inner in value:
                walk(inner)

    walk(json_schema())
    assert seen > 150
