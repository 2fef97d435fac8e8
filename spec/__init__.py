"""Scantling: one job file in, a work order for every trade and a spec book for the client out."""

__version__ = "0.1.0"
