"""The arithmetic of the trade: pure functions and frozen values.

Nothing here reads a clock, a file, a network or a random source. Masses are floats in grams,
ratios and errors plain numbers (0.02, not 2 %), times RFC 3339 text in UTC.
"""
