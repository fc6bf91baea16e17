"""`python -m kailyard` is `kailyard`."""

from __future__ import annotations

import sys

from kailyard.cli.main import main

sys.exit(main())
