# Two commands do all the set-up: `make demo` and `make test`. Needs Python 3.11+ and git.
PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: demo test check bench docs page lock kernels clean

$(VENV)/.ready: requirements-dev.lock pyproject.toml
	@echo "Setting up $(VENV) (once; about 1.2 GB with the CAD kernel)"
	@bash tools/system_packages.sh
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	@touch $@

demo: $(VENV)/.ready ## run the main job on the demo job and show where the report is
	$(BIN)/python tools/demo.py

check: $(VENV)/.ready ## lint, types, import contracts, fast tests: under a minute
	$(BIN)/ruff check src tests tools bench
	$(BIN)/ruff format --check src tests tools bench
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -m "not slow"

test: $(VENV)/.ready ## everything that CI runs
	@bash tools/system_packages.sh browser
	$(BIN)/ruff check src tests tools bench
	$(BIN)/ruff format --check src tests tools bench
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -n 2 --no-loadscope-reorder

bench: $(VENV)/.ready ## ratios against a peer in the same run
	$(BIN)/python bench/run.py

docs: $(VENV)/.ready ## regenerate the pages of docs/ that come from the code
	$(BIN)/python tools/write_docs.py

page: $(VENV)/.ready ## build the page into the package (needs Node 20 or later)
	cd page && npm ci --no-audit --no-fund && npm run build
	$(BIN)/python tools/page_stamp.py

lock: ## resolve the locked dependencies afresh (needs uv)
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-emit-index-url --no-emit-find-links pyproject.toml -o requirements.lock
	uv pip compile --universal --python-version 3.11 --generate-hashes --no-header --no-emit-index-url --no-emit-find-links --group dev pyproject.toml -o requirements-dev.lock

kernels: ## forget the compiled kernels
	find src -name '*.nb[ic]' -delete

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .pytest_cache .hypothesis
