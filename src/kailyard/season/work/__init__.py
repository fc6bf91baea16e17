"""Kinds of work, one file each: NAME, SCOPE ('planting', 'bed' or 'garden') and `windows(view, target)`.

`target` is the `Life` of a planting, the `Bed`, or the `Garden`. What is yielded are windows, holds, dangers, looks and
rests of `kailyard.season.windows`. `DONE` says, by the first part of a line's name, which entry answers 'done'. How to
add one: docs/how-to/add-a-kind-of-work.md.
"""
