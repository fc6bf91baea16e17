"""Watching: what to look for, what it is, what may be done. Values in, values out: no file, no clock."""
