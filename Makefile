# What a gardener and a developer run. Needs GNU make, a POSIX shell, git, and Python 3.11 or newer with venv.
#   make demo PYTHON=python3.13 VENV=.venv-3.13    another Python, in an environment of its own

PYTHON = python3
VENV = .venv
DEMO = demo-garden
DIST = dist
TABLES =
PYTEST_ARGS =
SERVE_ARGS =

BIN = $(VENV)/bin
PIP = $(BIN)/python -m pip --disable-pip-version-check --quiet
FACTS = pyproject.toml src/kailyard/__init__.py

.DEFAULT_GOAL = help
.DELETE_ON_ERROR:
.PHONY: check-format check-lint check-types check-imports check-house
.PHONY: demo serve test browser validation peers run-peers speed run-speed check format docs bench load wheel clean help

help: ## say what can be made
	@grep -E '^[a-z]+:.*## ' Makefile | sed -e 's/:.*## /\t/' | sort | expand -t 14

demo: $(VENV)/installed ## write the demo garden, print its sheet, say what to try next
	@$(BIN)/kailyard demo $(DEMO)

serve: $(VENV)/installed ## show the demo garden in a browser, on its pretended day
	@test -e $(DEMO)/garden.db || $(BIN)/kailyard demo $(DEMO) >/dev/null
	@$(BIN)/kailyard --garden $(DEMO) serve --today 2026-06-12 $(SERVE_ARGS)

test: $(VENV)/installed-test ## run the tests, those in a browser last; PYTEST_ARGS='tests/season -x': a part of them
	@$(BIN)/python -m pytest $(PYTEST_ARGS)
	@$(if $(PYTEST_ARGS),,$(MAKE) --no-print-directory browser)

browser: $(VENV)/installed-in-a-browser ## run the tests in a real browser alone, over TLS and without signal (minutes)
	@$(BIN)/python -m pytest tests/browser $(PYTEST_ARGS)

validation: $(VENV)/installed-test ## print the tables of the checks against observed dates and weather (minutes)
	@$(BIN)/python -m tools.validation $(TABLES)

peers: ## hold the science against general libraries, in two environments of their own (1.3 gigabytes)
	@$(MAKE) --no-print-directory VENV=$(VENV)-peers PEERS=peers run-peers
	@$(MAKE) --no-print-directory VENV=$(VENV)-peers-xclim PEERS=peers-xclim run-peers

speed: ## measure the science beside pyet and refet, in the environment of the peers
	@$(MAKE) --no-print-directory VENV=$(VENV)-peers run-speed

run-speed: $(VENV)/installed-peers
	@$(BIN)/python -W ignore benchmarks/science.py
	@$(BIN)/python -W ignore benchmarks/care.py

# xclim does not go with the pandas that pyet pins: each environment runs the files that are for it.
ONLY_XCLIM = tests/science/peers/test_peers_xclim.py
FILES_peers = tests/science/peers --ignore=$(ONLY_XCLIM)
FILES_peers-xclim = $(ONLY_XCLIM)

run-peers: $(VENV)/installed-$(PEERS)
	@$(BIN)/python -m pytest -W default $(FILES_$(PEERS)) $(PYTEST_ARGS)

check: $(VENV)/installed-check ## format, lint, types, import rules, house rules, docs
	@$(MAKE) --keep-going --no-print-directory check-format check-lint check-types check-imports check-house

check-format: $(VENV)/installed-check
	$(BIN)/ruff format --check .

check-lint: $(VENV)/installed-check
	$(BIN)/ruff check .

check-types: $(VENV)/installed-check
	$(BIN)/mypy

check-imports: $(VENV)/installed-check
	$(BIN)/lint-imports --no-cache

check-house: $(VENV)/installed-check
	$(BIN)/python -m tools.house

format: $(VENV)/installed-check ## put the code into the house's form
	$(BIN)/ruff format .
	$(BIN)/ruff check --fix .

docs: $(VENV)/installed ## write the pages that are made from the code
	$(BIN)/python -m tools.house --write

bench: $(VENV)/installed-bench ## measure the speeds that are promised
	@$(BIN)/python benchmarks/run.py
	@$(BIN)/python benchmarks/science.py
	@$(BIN)/python benchmarks/care.py
	@$(BIN)/python benchmarks/diseases.py

load: $(VENV)/installed ## let 50 readers and 10 writers at the pages for a minute; fail on an error or a lost entry
	@$(BIN)/python benchmarks/load.py

wheel: $(VENV)/installed-check ## build the wheel into dist/
	@$(BIN)/python -m build --wheel --outdir $(DIST) .

clean: ## remove what was built and installed here; the demo garden stays
	rm -rf $(VENV) dist build .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache .benchmarks
	find src tests tools demo benchmarks -name __pycache__ -type d -prune -exec rm -rf {} +

$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null || { \
	  echo "Kailyard needs Python 3.11 or newer; '$(PYTHON)' is $$($(PYTHON) --version 2>/dev/null || echo 'not there')." >&2; \
	  echo "Name another: make PYTHON=python3.12 $(MAKECMDGOALS)" >&2; exit 1; }
	@$(PYTHON) -c 'import ensurepip, venv' 2>/dev/null || { \
	  echo "'$(PYTHON)' lacks venv. On Debian and Ubuntu: apt install python3-venv" >&2; exit 1; }
	@echo "Making $(VENV) ..."
	@$(PYTHON) -m venv $(VENV)

# The stamps make every run but the first quick: they are younger than what they were made from.
$(VENV)/installed: $(FACTS) | $(BIN)/python
	@echo "Installing kailyard into $(VENV) ..."
	@$(PIP) install 'pip>=25.1'  # the first that reads dependency groups
	@$(PIP) install --editable .
	@touch $@

# Makes its stamp only where nothing is lacking, so that it looks again the next time.
$(VENV)/installed-in-a-browser: tests/browser/install $(VENV)/installed-test
	@tests/browser/install $(VENV)

$(VENV)/installed-%: $(VENV)/installed
	@echo "Installing what '$*' needs into $(VENV) ..."
	@$(PIP) install --group $*
	@touch $@
