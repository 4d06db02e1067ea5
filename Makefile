# make demo   the main job on the demo project, documents into output/
# make test   lint, types, import contracts and all tests (a seeded sample of the long ones)
# Each makes .venv by itself. Needs Python 3.11 or newer and make.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
SPECGEN := $(BIN)/specgen

.PHONY: demo test test-long coverage bench docs manual lint changelog test-lowest clean

DEMO := projects/mixed-humid-midrise

# A review with products to resubmit, a request that breaks the wall and a project with defects leave with status 1.
demo: $(VENV)/.installed
	@$(SPECGEN) write $(DEMO) -o output
	@$(SPECGEN) review $(DEMO) $(DEMO)/submittals/*.yaml -o output/review || test $$? -eq 1
	@$(SPECGEN) substitute $(DEMO) $(DEMO)/substitutions/*.yaml -o output/substitutions || test $$? -eq 1
	@$(SPECGEN) letters $(DEMO) $(DEMO)/submittals/*.yaml -o output/letters
	@$(SPECGEN) register $(DEMO) -o output/register --schedule $(DEMO)/schedule.yaml
	@$(SPECGEN) check projects/faulty-parapet > output/faulty-parapet.txt || test $$? -eq 1
	@tail -n 1 output/faulty-parapet.txt
	@echo "Look at: output/basis-of-design.html, output/project-manual.docx, output/drawings.pdf, output/field, output/review,"
	@echo "         output/substitutions, output/letters, output/register, output/faulty-parapet.txt"

# The tests start many processes: what Python compiles is kept, also where the environment says otherwise. Each worker
# begins with its share of the files in order, and one that is done takes over tests of another: none ends alone.
test test-long: export PYTHONDONTWRITEBYTECODE :=

test: $(VENV)/.tested lint
	@$(BIN)/python -m pytest -n auto --dist worksteal --share-slow

test-long: $(VENV)/.tested lint
	@SPECGEN_LONG=1 $(BIN)/python -m pytest -n auto --dist worksteal

# Branch coverage of the rooms that decide and of those that touch what people typed, by their own tests and those that reach them.
ROOMS := requirements rules review files register

coverage: $(VENV)/.tested
	@$(BIN)/coverage erase
	@$(BIN)/coverage run -m pytest -n auto --dist loadfile $(ROOMS:%=tests/%) tests/work tests/paths/test_roof_side.py \
		tests/commands/test_compare.py tests/commands/test_review_folder.py tests/commands/test_unusable.py
	@$(BIN)/coverage combine --quiet
	@for room in $(ROOMS); do $(BIN)/coverage report --include="specgen/$$room/*" --fail-under=95 || exit 1; done

lint: $(VENV)/.tested
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check .
	@$(BIN)/mypy
	@$(BIN)/lint-imports --config pyproject.toml

bench: $(VENV)/.tested
	@$(BIN)/python benchmarks/run.py

docs: $(VENV)/.tested
	@$(BIN)/python -m tests.docs.pages
	@$(MAKE) --no-print-directory manual

# The manual as a site; what the builder tells of its own successors is left out.
manual: $(VENV)/.manual
	@NO_MKDOCS_2_WARNING=1 $(BIN)/python -m mkdocs --quiet build
	@echo "Look at: build/manual/index.html"

# The fragments of docs/changes into CHANGELOG.md, under the version of pyproject.toml.
changelog: $(VENV)/.tested
	@$(BIN)/towncrier build --yes --version "$$($(BIN)/python -c 'import specgen; print(specgen.__version__)')"

# The lowest versions that pyproject.toml allows, in an environment of their own. Old packages warn of what is new in Python: here a
# warning is none. Needs uv.
LOWEST := build/lowest

test-lowest:
	@uv venv --quiet --clear --python $(PYTHON) $(LOWEST)
	@uv pip install --quiet --python $(LOWEST) --resolution lowest-direct -r pyproject.toml --extra page --extra plots --extra studies
	@uv pip install --quiet --python $(LOWEST) --no-deps -e .
	@uv pip freeze --quiet --python $(LOWEST) | grep -v '^-e' > $(LOWEST)/held.txt
	@uv pip install --quiet --python $(LOWEST) --constraint $(LOWEST)/held.txt pytest hypothesis ezdxf jsonschema pint psychrolib
	@$(LOWEST)/bin/python -m pytest -o filterwarnings=default tests/chain tests/render --ignore=tests/chain/test_kill.py

clean:
	rm -rf output build dist

$(BIN)/python:
	@$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11))' || \
		{ echo "specgen needs Python 3.11 or newer; set PYTHON=python3.11"; exit 1; }
	@$(PYTHON) -m venv $(VENV)

$(VENV)/.installed: $(BIN)/python pyproject.toml
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	@touch $@

$(VENV)/.tested: $(BIN)/python pyproject.toml
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
	@touch $@ $(VENV)/.installed

$(VENV)/.manual: $(BIN)/python pyproject.toml
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[manual]'
	@touch $@ $(VENV)/.installed
