"""Geometry to pictures."""
