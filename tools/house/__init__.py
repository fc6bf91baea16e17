"""The house's own rules, where ruff, mypy and import-linter cannot say them.

A rule is a file in `tools.house.rules` with `problems(root) -> list of 'file:line: words'`; `root` is a checkout, so
that tests/house can try each rule on a copy that breaks it. `python -m tools.house` runs them all and fails on any
problem.
"""
