"""The science by itself: numpy and Python's own library are all that it needs, and none of Kailyard's other parts."""

import subprocess
import sys

_ALONE = """
import sys

before = set(sys.modules)  # what Python's own start brought, from files of the environment

class Refuse:
    refused = set()

    def find_spec(self, name, path=None, target=None):
        top = name.partition(".")[0]
        ours = name == "kailyard" or name.startswith("kailyard.science")
        if ours or top == "numpy" or top in sys.stdlib_module_names:
            return None
        self.refused.add(name)
        raise ImportError(f"{name} is refused")

sys.meta_path.insert(0, Refuse())
"""
_EVERY_METHOD = """
import importlib, pkgutil
from kailyard import science
from kailyard.science.reckon import reckoners

for info in pkgutil.iter_modules(science.__path__):
    importlib.import_module(f"kailyard.science.{info.name}")
methods = reckoners()
for method in methods:
    method.function(**method.example)
from kailyard.science import fast
assert fast.single_sine_degree_days(8.0, 24.0, lower_c=10, upper_c=30) == \
    importlib.import_module("kailyard.science.degree_days").single_sine_degree_days(8.0, 24.0, lower_c=10, upper_c=30)
tops = {n.partition(".")[0] for n in set(sys.modules) - before}
print(len(methods), sorted(tops - set(sys.stdlib_module_names)))
print(sorted(n for n in sys.modules if n.startswith("kailyard.") and not n.startswith("kailyard.science")))
print(sorted(n for n in Refuse.refused if n.startswith("kailyard")))
"""


def _run(program: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)


def test_every_method_works_where_nothing_but_numpy_can_be_imported() -> None:
    run = _run(_ALONE + _EVERY_METHOD)
    assert run.returncode == 0, run.stderr
    first, others, refused = run.stdout.splitlines()
    count, loaded = first.split(" ", 1)
    assert int(count) >= 100
    assert loaded == "['kailyard', 'numpy']"
    assert others == refused == "[]"


def test_the_refusal_itself_bites() -> None:
    for line in ("import msgspec", "import kailyard.handbook"):
        run = _run(_ALONE + line)
        assert run.returncode == 1
        assert "is refused" in run.stderr
