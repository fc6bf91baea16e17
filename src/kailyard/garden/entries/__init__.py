"""Kinds of entry, one file a kind; `kailyard.garden.kinds` says what a file has."""
