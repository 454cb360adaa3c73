"""The live pages: a local web page where a person designs by looking."""
