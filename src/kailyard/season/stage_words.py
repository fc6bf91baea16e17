"""Names of stages in running text."""

from __future__ import annotations


def words(stage: str) -> str:
    """A stage's name in running text."""
    return {
        "sown": "sowing",
        "planted": "planting",
        "set-out": "setting out",
        "emerged": "coming up",
        "first-flower": "first flower",
        "last-flower": "last flower",
        "first-harvest": "first picking",
        "last-harvest": "last picking",
        "mature": "ripeness",
    }.get(stage, stage.replace("-", " "))
