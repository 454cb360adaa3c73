"""The search over a parts list: what can be combined, solved, compared, kept and shown."""
