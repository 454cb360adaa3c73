"""The findings of the catalogue about the person in the place."""

from __future__ import annotations

from coldwright.findings_catalogue import Entry

PERSON: dict[str, Entry] = {
    "CW-PERSON-01": Entry(
        "A draught on the person",
        "Where the person sits the jet is so fast or so cold that more than a fifth of people who "
        "are neither warm nor cold would call it a draught (EN ISO 7730). Somebody who is hot "
        "calls the same air a breeze, until it lifts paper and dries the eyes. A wider mouth, a "
        "slower fan or more distance help.",
    ),
}
