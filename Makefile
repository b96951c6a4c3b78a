# Two commands do everything: `make demo` and `make test`. Both set up what they need in .venv.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check --quiet
INSTALL := $(PIP) install --no-compile --require-hashes --no-deps --only-binary :all:

.PHONY: demo test test-all test-fuzz checks lint bench benchmarks calibrate self-consistency harder-twin trial-runs judge-r photo-swards scale-runs nightly restore-drill test-postgres docs screenshots wheel locks clean

# Ends in running pages (stop them with Ctrl-C); without a terminal it says how to open them.
demo: $(VENV)/.run
	$(BIN)/swardbook demo --serve

test: $(VENV)/.test
	$(BIN)/python tools/test_all.py

# The tests, and after them the journeys of minutes in a browser.
test-all: test
	$(BIN)/python -m pytest -q -m long

checks: $(VENV)/.test
	$(BIN)/python tools/write_checks.py

lint: $(VENV)/.test
	$(BIN)/ruff check . && $(BIN)/ruff format --check . && $(BIN)/lint-imports && $(BIN)/mypy

bench benchmarks: $(VENV)/.test
	$(BIN)/python -m benchmarks

calibrate: $(VENV)/.test
	$(BIN)/python -m tools.calibrate

# Long runs: some twenty minutes together on two quiet cores. One that was stopped goes on where it was.
self-consistency: $(VENV)/.test
	$(BIN)/python -m tools.self_consistency

harder-twin: $(VENV)/.test
	$(BIN)/python -m tools.harder_twin

# How often trials mislead and find what is there: half an hour on a quiet core.
trial-runs: $(VENV)/.test
	OMP_NUM_THREADS=1 $(BIN)/python -m tools.trial_runs

# R as a judge of the trials, where Rscript is installed; the numbers kept of it otherwise.
judge-r: $(VENV)/.test
	OMP_NUM_THREADS=1 $(BIN)/python -m tools.judge_r

# How well photographs of drawn swards are read: some eight minutes on a quiet core.
photo-swards: $(VENV)/.test
	OMP_NUM_THREADS=1 $(BIN)/python -m tools.photo_swards

# Ten thousand malformed uploads and imports; one that was stopped goes on where it was.
test-fuzz: $(VENV)/.test
	$(BIN)/python -m tools.fuzz

# All lawns of a made-up firm looked over at night, with one worker and two, one of them killed: an
# hour on two quiet cores. One that was stopped goes on where it was.
scale-runs: $(VENV)/.test
	OMP_NUM_THREADS=1 $(BIN)/python -m tools.scale_runs

# The records, and a core of book, commands and pages, on a PostgreSQL of its own; needs Debian's package postgresql.
test-postgres: $(VENV)/.test
	$(BIN)/python -m tools.postgres

# From a copy to serving in one command, on a made-up firm's book; writes its figures.
restore-drill: $(VENV)/.test
	$(BIN)/python -m tools.restore_drill --lawns 20

# Whether anything that was kept is ever lost: kills, a full disk, torn files; half an hour, goes on where it was.
test-crash: $(VENV)/.test
	$(BIN)/python -m tools.crash_runs

# Twenty phones and five desks at one server: ten minutes and a little.
soak: $(VENV)/.test
	$(BIN)/python -m tools.soak

nightly: self-consistency harder-twin trial-runs judge-r photo-swards

docs: $(VENV)/.test
	$(BIN)/python tools/write_reference.py

# Every page at 360, 768 and 1440 px, to look at, in build/screenshots; needs Chromium.
screenshots: $(VENV)/.test
	$(BIN)/python -m tools.screenshots

wheel: $(VENV)/.test
	$(BIN)/python -m build --no-isolation --wheel

# Names, versions and hashes only; needs uv, which nothing else here needs.
LOCK := uv pip compile --generate-hashes --no-header --no-annotate --universal --python-version 3.11 \
	--quiet --no-emit-index-url --no-emit-find-links pyproject.toml
locks:
	$(LOCK) --extra photos --extra build -o locks/run.txt
	$(LOCK) --extra photos --extra test --extra build -o locks/test.txt
	$(LOCK) --extra all --extra build -o locks/all.txt

clean:
	rm -rf $(VENV) build dist .pytest_cache .mypy_cache .ruff_cache .import_linter_cache .hypothesis

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(0 if sys.version_info >= (3, 11) else "swardbook needs Python 3.11 or newer; this is %d.%d. Try: make PYTHON=python3.11 demo" % sys.version_info[:2])'
	@echo "Making an environment in $(VENV) ..."
	@$(PYTHON) -m venv $(VENV)

$(VENV)/.run: locks/run.txt pyproject.toml | $(VENV)/bin/python
	@echo "Installing what swardbook runs on (about a minute) ..."
	@$(INSTALL) -r locks/run.txt
	@$(PIP) install --no-deps --no-build-isolation -e .
	@touch $@

$(VENV)/.test: locks/test.txt $(VENV)/.run
	@echo "Installing what the tests need (about a minute) ..."
	@$(INSTALL) -r locks/test.txt
	@touch $@
