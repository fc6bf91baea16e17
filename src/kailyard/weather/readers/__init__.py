"""Readers of weather files, one file a reader, discovered from this folder.

Each has `NAME`, `HELP`, `NEEDS_COLUMNS` (True: only read where columns are declared), `sniff(name, head) -> bool` for
the first bytes of a file, and `read(data, options) -> DailyRecord`.
"""
