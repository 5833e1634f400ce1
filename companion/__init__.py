"""Scale Companion: two-part epoxy, weighed to the ratio and traced."""

__version__ = "0.4.0"
