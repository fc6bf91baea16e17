"""Regression: the hash below was made by running our own script. It says that nothing has moved."""

from __future__ import annotations

import hashlib

import numpy as np

from kailyard.demo.weather import demo_record


def test_the_demo_record_is_the_same_tenths_everywhere() -> None:
    record = demo_record()
    digest = hashlib.sha256()
    for column in (record.tmin_c, record.tmax_c, record.rain_mm):
        digest.update(np.rint(column * 10).astype("<i4").tobytes())
    assert digest.hexdigest() == "0a96ede1f658a307444270a95189a47cd93718f3e7bf54f4c221984a2d717a29"
