# Two commands are meant for everybody: `make serve` and `make test`. They set up all they need by themselves, once, given
# Python 3.11 or later, a POSIX shell and make.

PYTHON ?= python3
PORT ?= 8000
COUNT ?= 200
MINUTES ?= 5
VENV := .venv/bin/python

.NOTPARALLEL:
.PHONY: help serve test check bench gauntlet board-of-chance mutation fuzz site runtime outside lock release audit clean

help:
	@echo "make serve [PORT=8000]      build the site and serve it on this machine"
	@echo "make test [ARGS='-k word']  run the tests, in a real browser and against outside references"
	@echo "make check BOARD=file.yaml  judge a board"
	@echo "make bench                  measure what we promise, beside its goals"
	@echo "make release                build wheel, source and site into dist/, with their hashes"
	@echo "make audit                  check hashes, licences and known weaknesses of all that is locked"
	@echo "make gauntlet [COUNT=200]   try known faults on boards made by chance, and keep the result for the site"
	@echo "make mutation [COUNT=200]   put wrong steps into formulas, rules and limits, and count those that a test notices (COUNT=all)"
	@echo "make fuzz [MINUTES=5]       try hostile texts, and hostile visits to the site in a browser"
	@echo "make site | runtime | outside | lock | clean    the parts of these; see DEVELOPERS.md"

serve: .venv/serve.stamp
	@$(VENV) checker/setup/serve.py --free $(PORT)
	@$(MAKE) --no-print-directory site
	@$(VENV) checker/setup/serve.py site $(PORT)

# Installing waits for the network and the disk, building the site for one processor: both at once.
test: .venv/test.stamp
	@$(MAKE) --no-print-directory outside & outside=$$!; $(MAKE) --no-print-directory site; site=$$?; wait $$outside && exit $$site
	$(VENV) -m pytest -n auto --dist loadfile --no-loadscope-reorder $(ARGS)

check: .venv/serve.stamp
	@test -n "$(BOARD)" || { echo "Which board? For example: make check BOARD=demo_boards/practice-four.yaml" >&2; exit 2; }
	@$(VENV) -m boardwright check "$(BOARD)"

bench: .venv/test.stamp outside site
	@$(VENV) -m bench

gauntlet: .venv/test.stamp outside
	@$(VENV) -m gauntlet $(COUNT)

board-of-chance: .venv/serve.stamp
	@$(VENV) -m gauntlet.board_of_chance $(SEED)

mutation: .venv/test.stamp outside
	@$(VENV) -m mutation $(COUNT) $(if $(SEED),--seed $(SEED))

fuzz: .venv/test.stamp outside site
	@$(VENV) -m fuzz $(MINUTES) $(if $(FIRST),--first $(FIRST))

site: runtime
	@NO_MKDOCS_2_WARNING=1 $(VENV) -m mkdocs build --strict --quiet

runtime: .venv/serve.stamp
	@$(VENV) checker/browser/build.py

outside: .venv/test.stamp
	@$(VENV) checker/setup/outside.py

release: .venv/serve.stamp runtime
	@$(VENV) checker/setup/release.py

audit: .venv/test.stamp runtime
	@$(VENV) checker/setup/audit.py

lock: .venv/serve.stamp
	@$(VENV) checker/setup/lock.py

.venv/%.stamp: checker/setup/%.lock checker/setup/install.py pyproject.toml
	@$(PYTHON) checker/setup/install.py $*

clean:
	rm -rf .venv site dist checker/browser/build checker/browser/dist checker/browser/node_modules
