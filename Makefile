# `make` sets the program up, compiles its kernels and runs the main job on a demo shop.
# `make test` sets everything up and runs every check and every test.
PY ?= python3
V := .venv
BIN := $(V)/bin
PIP = $(PY) -m pip --python $(BIN)/python --disable-pip-version-check
INSTALL = $(PIP) install -q --require-hashes --only-binary :all: -r
DEMO := examples/cider-barn.shop.yaml
.DEFAULT_GOAL := run
.PHONY: run page contact-sheet setup kernels test coverage quick slow lint system lock budgets load long clean

$(BIN)/python:
	@$(PY) -c 'import sys; sys.exit(sys.version_info < (3, 11))' \
	  || { echo "Python 3.11 or newer is needed; $(PY) is $$($(PY) -V)" >&2; exit 1; }
	@echo "Setting up in $(V)"
	$(PY) -m venv --without-pip $(V)

$(V)/.run: locks/run.txt locks/build.txt pyproject.toml | $(BIN)/python $(V)/.browser
	@echo "Installing what the program needs (locked, with hashes)"
	$(INSTALL) locks/run.txt
	$(INSTALL) locks/build.txt
	$(PIP) install -q --no-deps --no-build-isolation -e .
	@touch $@

$(V)/.browser: package-lock.json locks/node.txt tools/browser.sh | $(BIN)/python
	@echo "Installing what the page loads in the browser (locked, with hashes)"
	PY=$(PY) sh tools/browser.sh
	@touch $@

$(V)/.test: locks/test.txt $(V)/.run $(V)/.browser
	@echo "Installing what the tests need (locked, with hashes)"
	$(INSTALL) locks/test.txt
	@touch $@

setup: $(V)/.run $(V)/.browser

kernels: $(V)/.run
	$(BIN)/python -m phasewright.command.kernels

run: kernels $(V)/.browser
	$(BIN)/phasewright study $(DEMO) --out answer

page: kernels $(V)/.browser
	$(BIN)/phasewright page

system:
	@sh tools/system.sh

lint: $(V)/.test
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy --strict src
	$(BIN)/lint-imports

test: $(V)/.test system lint kernels
	$(BIN)/python -m pytest -q -n 2 --dist loadgroup

# the same tests, counting which lines they reach: a third longer
coverage: kernels $(V)/.test
	$(BIN)/python -m pytest -q -n 2 --dist loadgroup --cov --cov-report=term

# a part of the tests, under a minute
quick: $(V)/.test
	$(BIN)/ruff check .
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -q -n 2 -m "not whole and not ngspice" \
	  tests/quantities tests/shop tests/files tests/house tests/command

# second opinions by large general simulators, which nothing else needs
slow: kernels $(V)/.test
	$(INSTALL) locks/slow.txt
	$(BIN)/python -m pytest -q -n 0 -W default tests/slow

budgets: kernels $(V)/.test
	@missed=0; for each in budgets page; do \
	  $(BIN)/python benchmarks/$$each.py || missed=1; done; exit $$missed

# a hundred visitors of a public server for ten minutes, half an hour in all
load: kernels $(V)/.test
	$(BIN)/python benchmarks/page_load.py

# two hundred random shops drawn and looked at; then ten thousand studied, for hours: stopped, it goes on where it was
long: kernels $(V)/.test
	PYTHONPATH=tests $(BIN)/python -P benchmarks/many_drawings.py
	PYTHONPATH=tests $(BIN)/python benchmarks/many_shops.py

# pictures of every view of the page, and one contact sheet of them in docs/
contact-sheet: kernels $(V)/.test
	$(BIN)/python tools/contact_sheet.py

# for developers: locks made anew
lock:
	PY=$(PY) sh tools/lock.sh

clean:
	rm -rf $(V) answer answer.* .coverage .coverage.* .pytest_cache .mypy_cache .ruff_cache \
	  .import_linter_cache .hypothesis .long-shops node_modules src/phasewright/page/static/libraries
