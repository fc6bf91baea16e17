"""The register of handbook tables: one module a table, found by `kailyard.discover`.

A table module has `NAME` (also its key in quantities.csv), `ROW` (Fact or LegRow), `COLUMNS`, `FILES` (folder and
`*.csv` under `handbook/data`), `parse(text, *, file, problems)` giving rows, and `ORDERED`: runs of quantities that
must not fall from left to right for one subject.
"""
