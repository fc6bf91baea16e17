"""`kailyard` with two things added: it can be killed after forms were kept and before that is answered, and it can
serve another worker, as a new version of the program would."""

from __future__ import annotations

import os
import signal
import sys
from pathlib import Path
from typing import Any

from kailyard.cli.main import main
from kailyard.web import later, statics

_keep = later.receive
_die = Path(os.environ["KAILYARD_DIE"])


def receive(*args: Any) -> Any:
    answers = _keep(*args)
    if _die.exists():
        _die.unlink()
        os.kill(os.getpid(), signal.SIGKILL)
    return answers


later.receive = receive
if os.environ["KAILYARD_WORKER"]:
    made = dict(statics.statics())
    made["worker.js"] = statics._static("worker.js", made["worker.js"].content + b"\n// another\n")
    statics.statics = lambda: made
sys.exit(main())
