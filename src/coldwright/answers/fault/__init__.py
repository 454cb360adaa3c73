"""Faults, one small file each, and what they are measured by; `registry` lists them."""
