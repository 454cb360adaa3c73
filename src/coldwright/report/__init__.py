"""Answers as documents and pictures: results in, files out, no calculation."""
