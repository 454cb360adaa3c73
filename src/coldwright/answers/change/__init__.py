"""Changes to a design, one small file each; `registry` lists them, `kind` says what one is."""
