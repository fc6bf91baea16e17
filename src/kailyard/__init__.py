"""Kailyard: a garden's record and the weather, turned into dated windows with odds."""

__version__ = "0.1.0"
