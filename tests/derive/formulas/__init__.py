"""Tests of the formulas."""
