"""The register of handbook tables: one module a table, found by `kailyard.discover`.

A table module has `NAME`, `ROW` (Fact or LegRow), `COLUMNS`, `FILES` (folder and `*.csv` under `handbook/data`),
`DECLARED` (the table of quantities.csv that says what it may hold), `BY_SUBJECT` (whether each file is about the
subject it is named by: such files are opened when that subject is asked for), `parse(text, *, file, problems)` giving
rows, and `ORDERED`: runs of quantities that must not fall from left to right for one subject.
"""
