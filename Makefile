# Each target sets up what it needs in .venv, once, and again when pyproject.toml changes.
# PYTHON=/path/to/python picks the interpreter; proxy, CA and pip variables are passed through.

VENV := .venv
BIN := $(VENV)/bin
PIP_INSTALL := $(BIN)/python -m pip install --quiet --disable-pip-version-check
PYTHONS := $(or $(PYTHON),python3 python3.11 python3.12 python3.13 python3.14 python)

.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
.SUFFIXES:
MAKEFLAGS += --no-builtin-rules

.PHONY: help demo app build docs test check bench mutation calibration format clean

help: ## Say what can be made
	@awk -F ':.*## ' '/^[a-z]+:.*## / {printf "make %-11s %s\n", $$1, $$2}' $(MAKEFILE_LIST)

demo: $(VENV)/.base ## Work through an invented survey, from the sheets to the figures
	$(BIN)/python demo/run.py

app: build ## Open the app with the invented survey: the bank, and the office's desk
	$(BIN)/python demo/serve.py

build: $(VENV)/.app ## Build the app; then: .venv/bin/bankside serve
	$(BIN)/python web/build.py

docs: $(VENV)/.docs ## Build the documents as a site that needs no network: out/site/index.html
	NO_MKDOCS_2_WARNING=1 $(BIN)/python -m mkdocs --quiet build --strict
	@echo 'Open out/site/index.html in a browser.'

test: check build $(VENV)/.tools ## Lint, type check, build the app and run every test
	$(BIN)/python web/npm.py --silent test
	$(BIN)/python -m pytest --numprocesses=auto --dist=worksteal $(PYTEST_ARGS)

check: $(VENV)/.dev ## Lint and type check, changing nothing
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/python web/npm.py --silent run check

bench: build $(VENV)/.tools $(VENV)/.bench ## Measure kernel, checks against slips, a look, practice, the archive, whole tables, the app
	$(BIN)/python bench/kernel.py
	$(BIN)/python bench/between.py
	$(BIN)/python bench/slips.py
	$(BIN)/python bench/look.py
	$(BIN)/python bench/practice.py
	$(BIN)/python bench/archive.py
	$(BIN)/python bench/bulk.py
	$(BIN)/python bench/app.py

mutation: $(VENV)/.mutation ## Change the kernel and the checks in small ways, and see whether a test notices each
	$(BIN)/python bench/mutate.py kernel
	$(BIN)/python bench/mutate.py checks
	$(BIN)/python bench/mutation.py

calibration: $(VENV)/.dev ## Fit and judge the model between verticals, and what is advised by it, on simulated gaugings; an hour
	$(BIN)/python -m calibration.ranges
	$(BIN)/python -m calibration.fit
	$(BIN)/python -m calibration.judge
	$(BIN)/python -m calibration.tried
	$(BIN)/python -m calibration.document
	$(BIN)/python -m calibration.advice
	$(BIN)/python -m calibration.strong_water
	$(BIN)/python -m calibration.planned_by_depths
	$(BIN)/python -m calibration.soundings
	$(BIN)/python -m calibration.advice_document

format: $(VENV)/.dev ## Lay the code out and mend what the linter can mend
	$(BIN)/ruff check --fix .
	$(BIN)/ruff format .

clean: ## Remove the environment and everything made
	rm -rf $(VENV) build dist out mutants .pytest_cache .mypy_cache .ruff_cache .hypothesis
	rm -rf web/node_modules src/bankside/server/static
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# The bare package, as a user gets it.
$(VENV)/.base: pyproject.toml | $(BIN)/pip
	@echo 'Fetching the libraries into $(VENV): about 650 MB, a minute or more without a word.'
	$(PIP_INSTALL) --editable .
	touch $@

# The package and what builds the app.
$(VENV)/.app: pyproject.toml | $(BIN)/pip
	$(PIP_INSTALL) --editable '.[app]'
	touch $@ $(VENV)/.base

# The package and what builds its documents.
$(VENV)/.docs: pyproject.toml | $(BIN)/pip
	$(PIP_INSTALL) --editable '.[docs]'
	touch $@ $(VENV)/.base

# The package and the tools that test it.
$(VENV)/.dev: pyproject.toml | $(BIN)/pip
	$(PIP_INSTALL) --editable '.[dev]'
	touch $@ $(VENV)/.base $(VENV)/.app

# The general libraries that whole tables are measured beside.
$(VENV)/.bench: pyproject.toml | $(BIN)/pip
	$(PIP_INSTALL) --editable '.[dev,bench]'
	touch $@

# What changes the code to try the tests.
$(VENV)/.mutation: pyproject.toml | $(BIN)/pip
	$(PIP_INSTALL) --editable '.[mutation]'
	touch $@

# What tests run besides Python: LibreOffice works the workbook out anew, Poppler reads documents,
# Chromium opens the app, PostgreSQL holds archives (in a cluster that the tests make for
# themselves), OpenSSL makes a certificate to try. Without them the tests that need them fail, and
# say what is missing.
# Debian keeps PostgreSQL's own programs off the path.
TOOLS := soffice pdftotext pdftoppm chromium initdb openssl
TOOLS_PACKAGES := libreoffice-calc poppler-utils chromium postgresql openssl
TOOLS_PATH := $$PATH:$$(echo /usr/lib/postgresql/*/bin | tr ' ' ':')

$(VENV)/.tools: Makefile | $(BIN)/pip
	@set -eu; \
	complete() { \
	  for tool in $(TOOLS); do PATH="$(TOOLS_PATH)" command -v "$$tool" >/dev/null || return 1; done; \
	}; \
	if ! complete && [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	  echo 'The tests need LibreOffice Calc, Poppler, Chromium, PostgreSQL and OpenSSL;' \
	    'installing them.'; \
	  export DEBIAN_FRONTEND=noninteractive; \
	  { apt-get update -qq && apt-get install -qq -y --no-install-recommends \
	    $(TOOLS_PACKAGES); } >/dev/null || true; \
	fi; \
	if complete; then \
	  touch $@; \
	else \
	  echo 'The tests need $(TOOLS), and some of them are missing.' >&2; \
	  echo 'On Debian: sudo apt-get install --no-install-recommends $(TOOLS_PACKAGES)' >&2; \
	  echo 'The tests that need them will fail until then.' >&2; \
	fi

# Debian ships Python without ensurepip: root installs the missing part; for anyone else an
# installed pip will do.
$(BIN)/pip:
	@set -eu; \
	for python in $(PYTHONS) none; do \
	  if "$$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then break; fi; \
	done; \
	if [ "$$python" = none ]; then \
	  echo 'Bankside needs Python 3.11 or newer and found none among: $(PYTHONS).' >&2; exit 1; \
	fi; \
	has() { "$$python" -c "import $$1" 2>/dev/null; }; \
	if ! has 'venv, ensurepip' && [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null; then \
	  echo 'This Python cannot make a virtual environment; installing Debian'"'"'s python3-venv.'; \
	  export DEBIAN_FRONTEND=noninteractive; \
	  apt-get update -qq && apt-get install -qq -y --no-install-recommends python3-venv >/dev/null || true; \
	fi; \
	if has 'venv, ensurepip'; then \
	  "$$python" -m venv --clear $(VENV); \
	elif has 'venv, pip'; then \
	  "$$python" -m venv --clear --without-pip $(VENV); \
	  "$$python" -m pip --quiet --python $(BIN)/python install pip; \
	else \
	  echo 'This Python cannot make a virtual environment.' >&2; \
	  echo 'On Debian or Ubuntu: sudo apt-get install python3-venv, then run make again.' >&2; \
	  exit 1; \
	fi
