"""The picture in which heat flows, as it stands on a page, and what is told of each band."""

from __future__ import annotations

import json

from coldwright.answers.live import Live
from coldwright.faces.pages.markup import text
from coldwright.quantities.glossary import display


def picture(live: Live, *, narrow: bool) -> str:
    """The heat of this operating point as bands, with their notes beside them as data."""
    from coldwright.drawings.heat_flow import band_notes, heat_flow

    drawn = heat_flow(live.watts, layout="narrow" if narrow else "wide", live=True)
    notes = {
        note.id: {
            "name": note.words,
            "heat": note.text,
            "lines": [
                f"{node}: {what}, {display('heat_load_W', watts)}" if node else what
                for node, what, watts in note.lines
            ],
            "laws": [f"{law.sentence} Source: {law.source}" for law in note.laws],
            "widens": [f"{path}, {100 * share:.0f} %" for path, share in note.widens],
        }
        for note in band_notes(live.watts)
    }
    return f'{drawn}<div hidden data-notes="{text(json.dumps(notes))}"></div>'
