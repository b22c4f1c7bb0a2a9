# Two commands: `make run` sets up, prints one real answer and serves it; `make test` passes the tests.
PYTHON ?= python3
VENV ?= .venv
PORT ?= 8080
BIN := $(VENV)/bin

.PHONY: run test checks benchmarks clean

run: $(VENV)/.run-ready
	@$(BIN)/traitbed under apple --height-m 6 --latitude 51 --limit 3
	@$(BIN)/traitbed serve --port $(PORT)

test: $(VENV)/.test-ready
	@sh .ci/browser
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/traitbed check kb
	$(BIN)/python -m pytest --numprocesses 2 --dist loadfile

benchmarks: $(VENV)/.test-ready
	$(BIN)/python -m tests.benchmarks

$(VENV)/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { echo "traitbed needs Python 3.11 or newer; name one with: make PYTHON=/path/to/python3.11 ..." >&2; exit 2; }
	@$(PYTHON) -m venv $(VENV) || { echo "Python's venv is missing; on Debian: apt-get install python3-venv" >&2; exit 2; }

$(VENV)/.run-ready: pyproject.toml | $(VENV)/bin/python
	@echo "Setting up (once) ..." >&2
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable .
	@touch $@

$(VENV)/.test-ready: pyproject.toml | $(VENV)/bin/python
	@echo "Setting up the tests (once) ..." >&2
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test]'
	@touch $@ $(VENV)/.run-ready

clean:
	rm -rf $(VENV) build dist *.egg-info .pytest_cache .mypy_cache .ruff_cache .hypothesis
