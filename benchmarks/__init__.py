"""How fast the solver is: the bars of the design, measured side by side in one run.

``python -m benchmarks`` prints a table of bar, measured number, and whether the bar is met.
"""
