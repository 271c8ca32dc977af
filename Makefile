# Two commands for a fresh machine:  make demo   and   make test
# Needs only make and Python 3.11 or later; everything else is put into .venv from the locks.
.DEFAULT_GOAL := help
SHELL := /bin/sh
PYTHON ?= python3
VENV := .venv
ifeq ($(OS),Windows_NT)
BIN := $(VENV)/Scripts
else
BIN := $(VENV)/bin
endif
PY := $(BIN)/python
RUN_STAMP := $(VENV)/.ready-to-run
DEV_STAMP := $(VENV)/.ready-to-test
PIP := $(PY) -m pip --disable-pip-version-check --no-input

.PHONY: help demo test lint types sql unit bench docs lock setup clean

help: ## show this list
	@grep -hE '^[a-z]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 10

demo: $(RUN_STAMP) ## build the invented school and open its dashboard
	@$(BIN)/roundelay demo

test: $(DEV_STAMP) lint types sql unit ## everything that must hold before a change lands

setup: $(DEV_STAMP) ## only make the environment

lint: $(DEV_STAMP)
	@$(PY) -m ruff format --check . && $(PY) -m ruff check .

types: $(DEV_STAMP)
	@$(PY) -m mypy

sql: $(DEV_STAMP)
	@$(PY) -m sqlfluff lint --disable-progress-bar --processes 2 dbt_project/models

unit: $(DEV_STAMP)
	@sh .ci/chromium && sh .ci/nginx
	@sh .ci/provider
	@$(PY) -m pytest -n 2 --dist loadfile

bench: $(DEV_STAMP) ## measure; writes var/bench.json
	@$(PY) -m tests.bench

docs: $(DEV_STAMP) ## rewrite the generated pages and build the model documentation
	@$(PY) -m ingest.contracts.documents
	@$(PY) -m ingest.model_docs

lock: ## resolve the locks anew (needs uv)
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header -q \
	    --group dev --group build pyproject.toml -o requirements-dev.lock
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header -q \
	    --group build -c requirements-dev.lock pyproject.toml -o requirements.lock

clean: ## remove what the commands made (not your workspaces)
	rm -rf $(VENV) var .pytest_cache .mypy_cache .ruff_cache .hypothesis

$(PY):
	@command -v $(PYTHON) >/dev/null 2>&1 || { \
	    echo "Python is missing. Install Python 3.11 or later, then run this again."; exit 2; }
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || { \
	    echo "Python 3.11 or later is needed; this is $$($(PYTHON) --version). Try: make PYTHON=python3.12 ..."; exit 2; }
	@$(PYTHON) -c 'import venv, ensurepip' 2>/dev/null || { \
	    echo "Python's venv module is missing. On Debian or Ubuntu: apt install python3-venv"; exit 2; }
	@echo "Making the environment in $(VENV) (once, a few minutes)"
	@$(PYTHON) -m venv $(VENV)

$(RUN_STAMP): $(PY) requirements.lock pyproject.toml
	@$(PIP) install -q --require-hashes --no-deps -r requirements.lock
	@$(PIP) install -q --no-deps --no-build-isolation -e .
	@touch $@

$(DEV_STAMP): $(RUN_STAMP) requirements-dev.lock
	@$(PIP) install -q --require-hashes --no-deps -r requirements-dev.lock
	@touch $@
