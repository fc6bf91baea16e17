"""What the parts hand to the doors: frozen dataclasses, one schema name with a version each.

A document is a file in this folder with a module-level `DOCUMENT`, the dataclass. Its `schema` class variable names it,
for example `kailyard.sheet/1`. Nothing here computes; nothing here imports another part.
"""
