"""The design sheet: what the person means to build, as data.

`file.read` gives a `models.Sheet`; `check.check` lists what can be said of it without physics;
`file.write_back` changes a file and keeps its comments; `library.library` holds the parts.
"""
