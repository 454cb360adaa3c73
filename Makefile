# Everything a person or a checking machine needs, each target with its own set-up:
#   make demo     two example coolers: will they do, and where do the watts go
#   make test     formatting, lint, types and all tests
#   make bench    how fast the solver is, side by side with plain ways to do the same
#   make lint     formatting, lint and types only
#   make format   put the source into its format
#   make docs     write the generated reference pages anew
#   make clean    remove the virtual environment and every cache
#
# PYTHON chooses the interpreter (3.11 or later), JOBS the number of test processes.

VENV := .venv
BIN := $(VENV)/bin
STAMP := $(VENV)/.ready
JOBS ?= 2
COLDWRIGHT := $(BIN)/coldwright

export PYTHONUTF8 := 1
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PIP_ROOT_USER_ACTION := ignore

.DEFAULT_GOAL := help
.PHONY: help demo test bench lint format docs clean

help:
	@sed -n '2,8s/^# \{0,3\}//p' Makefile

# Made once, and again when the list of dependencies changes.
$(STAMP): pyproject.toml tools/venv.sh
	@PYTHON='$(PYTHON)' sh tools/venv.sh $(VENV)
	@touch $@

demo: $(STAMP)
	@for project in demos/kiosk demos/cabinet; do \
	  for command in verdict watts; do \
	    printf '\n$$ coldwright %s %s\n' "$$command" "$$project"; \
	    $(COLDWRIGHT) "$$command" "$$project" || exit $$?; \
	  done; \
	done

test: lint
	@echo '== tests'
	@$(BIN)/pytest -n $(JOBS)

lint: $(STAMP)
	@echo '== format'
	@$(BIN)/ruff format --check .
	@echo '== lint'
	@$(BIN)/ruff check .
	@echo '== types'
	@$(BIN)/mypy

format: $(STAMP)
	@$(BIN)/ruff check --fix .
	@$(BIN)/ruff format .

bench: $(STAMP)
	@$(BIN)/python -m benchmarks

docs: $(STAMP)
	@$(BIN)/python tools/reference.py
	@$(BIN)/python -m coldwright.faces.cli.reference docs/reference
	@$(BIN)/python examples/published/run_all.py --page docs/reference/published-cases.md
	@$(BIN)/python tools/samples.py
	@$(BIN)/python tools/pictures.py

clean:
	rm -rf $(VENV) .pytest_cache .mypy_cache .ruff_cache .hypothesis .benchmarks build dist
	find . -name __pycache__ -type d -prune -exec rm -rf {} +
