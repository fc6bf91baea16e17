"""`kailyard` with three things added: it can be killed after forms were kept and before that is answered, it can serve
another worker, as a new version of the program would, and its pages can be more patient with a busy machine."""

from __future__ import annotations

import os
import re
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


def patient(said: re.Match[bytes]) -> bytes:
    return b"%s = %d" % (said[1], 8 * int(said[2]))


later.receive = receive
made = dict(statics.statics())
scripts = {name: made[name].content for name in ("offline.js", "queue.js", "worker.js")}
if os.environ["KAILYARD_PATIENT"]:
    waits = re.compile(rb"\b(\w*PATIENCE_MS|SOON_MS) = ([\d_]+)")
    scripts = {name: waits.sub(patient, content) for name, content in scripts.items()}
if os.environ["KAILYARD_WORKER"]:
    scripts["worker.js"] += b"\n// another\n"
made |= {name: statics._static(name, content) for name, content in scripts.items()}
statics.statics = lambda: made
sys.exit(main())
