"""The register of checks: one file each, with `NAME` and `check(case) -> findings`. One that finds nothing is unknown.

A check speaks against, or says that nothing of its own speaks against; it never outweighs another.
"""
