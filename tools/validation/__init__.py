"""The checks against observed dates and weather that are too heavy for `make test`: what `make validation` prints.

A table is a file here with `TITLE` (what is checked against what, with its source) and
`lines(shared) -> Iterable[str]`: the table, line by line, made from the reference folder `shared`. Tests that hold one
of its figures import the same file.
"""
