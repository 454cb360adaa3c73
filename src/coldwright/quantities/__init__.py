"""What a number is: its kind, its unit, its tolerance, and how people write and read it."""
