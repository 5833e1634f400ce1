"""Tests of Scale Companion."""
