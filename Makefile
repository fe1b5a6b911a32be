# Tenterbook: build, check, demonstrate. Everything made lands in build/; nothing made is committed.
#
#   make            the program, build/tenterbook          make demo     packages, build, two months of sample trade
#   make check      packages, build, every test            make bench    ratios against bare baselines
#   make fuzz       search for faults at random            make mutate   do the tests see a planted fault?
#   make install    into DESTDIR/PREFIX                    make lint format coverage pot clean golden-review

VERSION := 0.2
PREFIX ?= /usr/local
DESTDIR ?=
BUILD ?= build
CC ?= cc
CFLAGS ?= -O2 -g
WARN := -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wstrict-prototypes -Wmissing-prototypes -Wvla
# What makes a fault in memory hard to use: for every build but those that look for such faults themselves.
GUARD_OF_x86_64 := -fcf-protection=full
GUARD_OF_aarch64 := -mbranch-protection=standard
HARDEN ?= -fPIE -U_FORTIFY_SOURCE -D_FORTIFY_SOURCE=2 -fstack-protector-strong -fstack-clash-protection $(GUARD_OF_$(shell uname -m))
HARDEN_LINK ?= -pie -Wl,-z,relro,-z,now,-z,noexecstack
PLAIN = $(or $(findstring -fsanitize,$(CFLAGS)),$(findstring -O0,$(CFLAGS)))
PKGS := sqlite3 expat gsl libsodium jansson libqrencode libseccomp
# Loaded when a function of theirs is first called, and not before: src/base/late has the list of each.
LATE := drawing archive letters code_page workbook crypto
LATE_drawing := pangocairo fontconfig
LATE_archive := libzip
LATE_letters := icu-i18n
LATE_code_page := uchardet
LATE_crypto := libcrypto
LATE_workbook := xlsxwriter
LATE_PKGS := $(foreach l,$(LATE),$(LATE_$l))
# Loaded where a PDF is read or written: src/base/sheet_pdf.c, src/report/draw/qpdf_load.c.
LOADED := poppler-glib libqpdf
PKG_CFLAGS := $(shell pkg-config --cflags $(PKGS) $(LATE_PKGS) $(LOADED) 2>/dev/null)
PKG_LIBS := $(shell pkg-config --libs $(PKGS) 2>/dev/null)
ALL_CFLAGS = -std=c11 -D_GNU_SOURCE -DTB_VERSION='"$(VERSION)"' -DTB_LOCALE_DIR='"$(PREFIX)/share/locale"' \
	$(WARN) -Iinclude -I$(BUILD) -Isrc $(PKG_CFLAGS) $(CFLAGS) $(if $(PLAIN),,$(HARDEN))
LINK = $(CC) $(CFLAGS) $(LDFLAGS) $(if $(PLAIN),,$(HARDEN_LINK))
LIBS := $(PKG_LIBS) -lcsv -lunistring -lz -lpthread -lm
# Tests call them to make what the program reads.
TEST_LIBS := $(LIBS) $(shell pkg-config --libs $(LATE_PKGS) icu-uc 2>/dev/null)
MODULES := base text fibre evidence law lab sampling book intake work tell report terminal line

ifeq ($(V),1)
Q :=
else
Q := @
endif

REF := $(patsubst sql/reference/%.csv,%,$(wildcard sql/reference/*.csv))
GEN_H := $(REF:%=$(BUILD)/gen/ref_%.h) $(BUILD)/gen/sql.h $(LATE:%=$(BUILD)/gen/late_%.h)
GEN_C := $(REF:%=$(BUILD)/gen/ref_%.c) $(LATE:%=$(BUILD)/gen/late_%.c) $(BUILD)/gen/sql.c $(BUILD)/gen/fibre_index.c $(BUILD)/gen/catalogues.c
SQL := $(sort $(wildcard sql/schema/*.sql)) $(sort $(wildcard sql/query/*.sql))
LIB_C := $(foreach m,$(MODULES),$(sort $(wildcard src/$(m)/*.c src/$(m)/*/*.c)))
CLI_C := $(sort $(wildcard src/cli/*.c src/cli/*/*.c))
LIB_O := $(LIB_C:%.c=$(BUILD)/%.o) $(GEN_C:%.c=%.o)
CLI_O := $(CLI_C:%.c=$(BUILD)/%.o)
LIB := $(BUILD)/libtenterbook.a

# As many at once as there are processors, where -j does not say.
JOBS = $(if $(filter -j%,$(MAKEFLAGS)),,-j$(shell nproc))

all: $(BUILD)/tenterbook

$(BUILD)/tenterbook: $(CLI_O) $(LIB) | $(BUILD)/reference.ok
	@echo "  link $@"
	$(Q)$(LINK) -o $@ $(CLI_O) $(LIB) $(LIBS)

$(LIB): $(LIB_O)
	$(Q)rm -f $@ && $(AR) rcs $@ $(LIB_O)

# --- generators: named SQL and reference tables into C --------------------------------------------------
REFGEN_C := src/gen/refgen.c src/gen/csv_in.c src/gen/gen.c
SQLGEN_C := $(sort $(wildcard src/gen/sqlgen*.c)) src/gen/gen.c

$(BUILD)/gen/refgen: $(REFGEN_C) src/gen/gen.h | $(BUILD)/gen
	$(Q)$(CC) -std=c11 -D_GNU_SOURCE $(WARN) -Isrc -O1 -o $@ $(REFGEN_C) -lcsv

$(BUILD)/gen/sqlgen: $(SQLGEN_C) src/gen/sqlgen.h src/gen/gen.h | $(BUILD)/gen
	$(Q)$(CC) -std=c11 -D_GNU_SOURCE $(WARN) -Isrc -O1 -o $@ $(SQLGEN_C) -lsqlite3 -lsodium

$(BUILD)/gen/ref_%.c $(BUILD)/gen/ref_%.h &: sql/reference/%.csv $(BUILD)/gen/refgen
	$(Q)$(BUILD)/gen/refgen $* $(BUILD)/gen/ref_$*.h $(BUILD)/gen/ref_$*.c $<

# Libraries that are loaded late: under which names of files the linker found them, and a table of the functions that are called.
LATEGEN_C := src/gen/lategen.c src/gen/gen.c

$(BUILD)/gen/lategen: $(LATEGEN_C) src/gen/gen.h | $(BUILD)/gen
	$(Q)$(CC) -std=c11 -D_GNU_SOURCE $(WARN) -Isrc -O1 -o $@ $(LATEGEN_C)

$(BUILD)/gen/late_%.files: src/base/late/%.txt | $(BUILD)/gen
	$(Q)echo | $(CC) -shared -fPIC -o $@.so -x c - -Wl,--no-as-needed $$(pkg-config --libs $(LATE_$*)) && \
		readelf -dW $@.so | sed -n 's/.*(NEEDED).*\[\(.*\)\]$$/\1/p' | grep -v '^libc\.so' >$@

$(BUILD)/gen/late_%.c $(BUILD)/gen/late_%.h &: src/base/late/%.txt $(BUILD)/gen/late_%.files $(BUILD)/gen/lategen
	$(Q)$(BUILD)/gen/lategen $* $(BUILD)/gen/late_$*.h $(BUILD)/gen/late_$*.c src/base/late/$*.txt $(BUILD)/gen/late_$*.files

# The index over the names of fibres is made by a program that folds words as the reader does.
FIBREGEN_O := $(BUILD)/src/gen/fibregen.o $(BUILD)/src/gen/gen.o $(BUILD)/src/fibre/fold.o $(BUILD)/gen/ref_fibre.o $(BUILD)/gen/ref_fibre_name.o \
	$(BUILD)/gen/ref_law_name.o $(BUILD)/src/fibre/part.o $(BUILD)/src/fibre/finish.o $(BUILD)/gen/ref_finish.o $(BUILD)/src/base/words.o $(BUILD)/src/base/text.o $(BUILD)/src/base/mem.o $(BUILD)/src/base/err.o $(BUILD)/src/base/utf8.o

$(BUILD)/gen/fibregen: $(FIBREGEN_O)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lunistring

$(BUILD)/gen/fibre_index.c: $(BUILD)/gen/fibregen
	$(Q)$(BUILD)/gen/fibregen $@

# Catalogues of papers: msgfmt refuses one that is not well formed, or whose parameters differ, and mogen makes tables of them.
TONGUES := $(patsubst src/text/po/%.po,%,$(sort $(wildcard src/text/po/*.po)))
MOGEN_C := src/gen/mogen.c src/gen/gen.c

$(BUILD)/gen/mogen: $(MOGEN_C) src/gen/gen.h src/text/catalogue.h | $(BUILD)/gen
	$(Q)$(CC) -std=c11 -D_GNU_SOURCE $(WARN) -Isrc -O1 -o $@ $(MOGEN_C)

$(BUILD)/gen/%.mo: src/text/po/%.po | $(BUILD)/gen
	$(Q)msgfmt --check -o $@ $<

$(BUILD)/gen/catalogues.c: $(BUILD)/gen/mogen $(TONGUES:%=$(BUILD)/gen/%.mo)
	$(Q)$(BUILD)/gen/mogen $@ $(foreach t,$(TONGUES),$(t)=$(BUILD)/gen/$(t).mo)

# A program of the build frees nothing, it runs once and ends: no leak for a sanitizer to find.
ONCE := ASAN_OPTIONS=detect_leaks=0

# Words that no code knows would be silent at run time: without leave of refcheck there is no program.
REFCHECK_O := $(patsubst %.c,$(BUILD)/%.o,$(sort $(wildcard src/gen/refcheck*.c)) src/gen/csv_in.c src/gen/gen.c)

$(BUILD)/gen/refcheck: $(REFCHECK_O) $(LIB)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/reference.ok: $(BUILD)/gen/refcheck $(wildcard sql/reference/*.csv)
	$(Q)$(ONCE) $(BUILD)/gen/refcheck sql/reference && touch $@

$(BUILD)/market/reference.ok: $(BUILD)/gen/refcheck $(wildcard sql/reference/*.csv tests/market/*.csv)
	@mkdir -p $(@D)
	$(Q)$(ONCE) $(BUILD)/gen/refcheck sql/reference tests/market && touch $@

# The same program with a market that is not in the tables, from rows alone: those of tests/market behind ours.
MARKET_REF := $(patsubst tests/market/%.csv,%,$(wildcard tests/market/*.csv))
MARKET_O := $(MARKET_REF:%=$(BUILD)/market/gen/ref_%.o)
MARKET_FIBREGEN_O := $(foreach o,$(FIBREGEN_O),$(or $(filter $(BUILD)/market/gen/$(notdir $(o)),$(MARKET_O)),$(o)))

$(BUILD)/market/gen/ref_%.c: sql/reference/%.csv tests/market/%.csv $(BUILD)/gen/refgen
	@mkdir -p $(@D)
	$(Q)$(BUILD)/gen/refgen $* $(BUILD)/market/gen/ref_$*.h $@ $(filter %.csv,$^)

$(BUILD)/market/gen/fibregen: $(MARKET_FIBREGEN_O)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ -lunistring

$(BUILD)/market/gen/fibre_index.c: $(BUILD)/market/gen/fibregen
	$(Q)$(BUILD)/market/gen/fibregen $@

$(BUILD)/market/tenterbook: $(CLI_O) $(MARKET_O) $(BUILD)/market/gen/fibre_index.o $(LIB) | $(BUILD)/market/reference.ok
	@echo "  link $@"
	$(Q)$(LINK) -o $@ $^ $(LIBS)

$(BUILD)/gen/sql.c $(BUILD)/gen/sql.h &: $(SQL) $(BUILD)/gen/sqlgen
	$(Q)$(BUILD)/gen/sqlgen $(BUILD)/gen/sql.h $(BUILD)/gen/sql.c $(SQL)

$(BUILD)/gen:
	$(Q)mkdir -p $@

$(BUILD)/gen/%.o: $(BUILD)/gen/%.c | $(GEN_H)
	@echo "  cc $<"
	$(Q)$(CC) $(ALL_CFLAGS) -Wno-overlength-strings -MMD -MP -c -o $@ $<

$(BUILD)/market/gen/%.o: $(BUILD)/market/gen/%.c | $(GEN_H)
	@echo "  cc $<"
	$(Q)$(CC) $(ALL_CFLAGS) -Wno-overlength-strings -MMD -MP -c -o $@ $<

# The kernel is one loop over everything: worth the compiler's best, and its square roots set no errno.
$(BUILD)/src/evidence/kernel.o: ALL_CFLAGS += -O3 -fno-math-errno -fno-trapping-math

$(BUILD)/%.o: %.c | $(GEN_H)
	@mkdir -p $(@D)
	@echo "  cc $<"
	$(Q)$(CC) $(ALL_CFLAGS) -MMD -MP -c -o $@ $<

-include $(shell find $(BUILD) -name '*.d' 2>/dev/null)

# --- the two commands -----------------------------------------------------------------------------------
demo:
	@.ci/packages build
	@$(MAKE) --no-print-directory $(JOBS) all $(BUILD)/photograph
	@tests/demo.sh $(BUILD)/tenterbook $(BUILD)/demo

# Draws what the demonstration keeps as photographs of its swatches.
$(BUILD)/photograph: tests/photograph/photograph.c tests/photograph/jpeg.c tests/photograph/jpeg.h
	@echo "  link $@"
	$(Q)$(CC) $(ALL_CFLAGS) $(LDFLAGS) -o $@ $(filter %.c,$^) $(TEST_LIBS)

check:
	@.ci/packages check
	@$(MAKE) --no-print-directory check-run

# --- tests ----------------------------------------------------------------------------------------------
# Every tests/unit/*.c and tests/vectors/*.c is one cmocka program; every tests/cli/*.sh one script that
# prints "ok - sentence" or "not ok - sentence". tests/run.sh runs them all and prints the one closing line.
TEST_C := $(sort $(wildcard tests/unit/*.c) $(wildcard tests/vectors/*.c))
TEST_BIN := $(TEST_C:%.c=$(BUILD)/%)
# What only tests run with says names and lines, and no values: built in two thirds of the time.
SAN := -O1 -g1 -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer

# A test runs once and leaves the work to the library: to compile it at its best takes longer than it runs.
TEST_CFLAGS = $(ALL_CFLAGS) -O0 -g1 -U_FORTIFY_SOURCE

$(BUILD)/tests/%: tests/%.c $(LIB) | $(GEN_H)
	@mkdir -p $(@D)
	@echo "  test $@"
	$(Q)$(CC) $(TEST_CFLAGS) -DTB_SOURCE_DIR='"$(CURDIR)"' -Itests -MMD -MP -MF $@.d -o $@ $< $(LIB) -lcmocka $(TEST_LIBS)

# Preloaded before the program by tests/fault; the program itself knows nothing of them.
FAULTS := fail vfs memory
$(BUILD)/tests/fault/vfs.so: tests/fault/loss.c tests/fault/loss.h

$(BUILD)/tests/fault/%.so: tests/fault/%.c
	@mkdir -p $(@D)
	@echo "  test $@"
	$(Q)$(CC) -std=c11 -D_GNU_SOURCE $(WARN) -O1 -shared -fPIC -o $@ $(filter %.c,$^) -lsqlite3 -ldl -lpthread

# Unit programs run under sanitizers in `make check`, but for those of tests/unit/plain: they do the same a thousand times.
PLAIN_BIN := $(filter $(BUILD)/tests/vectors/%,$(TEST_BIN)) $(patsubst %,$(BUILD)/tests/unit/%,$(shell cat tests/unit/plain))
units: $(filter-out $(PLAIN_BIN),$(TEST_BIN))
plain: $(PLAIN_BIN)
tests: units plain test-tools
test-tools: $(BUILD)/photograph $(BUILD)/market/tenterbook $(FAULTS:%=$(BUILD)/tests/fault/%.so)

# What several tests would make at the same time is made before they start.
check-run:
	@$(MAKE) --no-print-directory $(JOBS) all plain test-tools pot $(LINT_C:%.c=$(BUILD)/%.o)
	@$(MAKE) --no-print-directory $(JOBS) BUILD=$(BUILD)/asan CFLAGS='$(SAN)' all units test-tools
	@$(MAKE) --no-print-directory $(JOBS) fuzzers
	@tests/run.sh $(BUILD)

check-unit: all tests
	@tests/run.sh --unit $(BUILD)

golden-review: all tests
	@tests/golden/review.sh $(BUILD)

# --- fuzzing: libFuzzer programs over tests/fuzz/*.c with committed seeds in tests/fuzz/seeds/NAME/ -------
# `make check` tries the same inputs each time (tests/fuzz/run.sh); `make fuzz` searches at random.
FUZZ_C := $(sort $(wildcard tests/fuzz/fuzz_*.c))
FUZZ_BUILD := $(BUILD)/fuzz
FUZZ_FLAGS := -DFUZZING_BUILD_MODE_UNSAFE_FOR_PRODUCTION -O1 -g1 -fsanitize=address,undefined,fuzzer-no-link -fno-sanitize-recover=all
TB_FUZZ_SECONDS ?= 60

fuzzers:
	@$(MAKE) --no-print-directory BUILD=$(FUZZ_BUILD) CC=clang CFLAGS='$(FUZZ_FLAGS)' fuzz-bin

fuzz:
	@.ci/packages check
	@$(MAKE) --no-print-directory $(JOBS) fuzzers
	@tests/fuzz/run.sh $(BUILD) $(TB_FUZZ_SECONDS)

fuzz-bin: $(FUZZ_C:tests/fuzz/%.c=$(BUILD)/%)

$(BUILD)/fuzz_%: tests/fuzz/fuzz_%.c $(LIB)
	@echo "  fuzzer $@"
	$(Q)$(CC) $(ALL_CFLAGS) -DTB_SOURCE_DIR='"$(CURDIR)"' -Itests -fsanitize=fuzzer -MMD -MP -MF $@.d -o $@ $< $(LIB) $(TEST_LIBS)

# --- benchmarks: ratios, never pass or fail --------------------------------------------------------------
BENCH_BIN := $(patsubst %.c,$(BUILD)/%,$(sort $(wildcard tests/bench/*.c)))

$(BUILD)/tests/bench/%: tests/bench/%.c $(LIB) | $(GEN_H)
	@mkdir -p $(@D)
	$(Q)$(CC) $(ALL_CFLAGS) -MMD -MP -MF $@.d -o $@ $< $(LIB) $(TEST_LIBS)

bench:
	@.ci/packages check
	@$(MAKE) --no-print-directory all bench-run

bench-run: $(BENCH_BIN)
	@tests/bench/run.sh $(BUILD)

# --- the evidence model: figures fitted, report on them ------------------------------------------------
counts:
	/usr/bin/python3 tests/fit/counts.py

TRIES ?= 300
fit: $(BUILD)/tests/fit/fit
	$(BUILD)/tests/fit/fit $(TRIES) 1

calibrate: all $(BUILD)/tests/fit/calibrate
	/usr/bin/python3 tests/fit/counts.py --check
	$(BUILD)/tests/fit/calibrate > $(BUILD)/judgements.csv
	$(BUILD)/tests/fit/calibrate short > $(BUILD)/short.csv
	/usr/bin/python3 tests/fit/bounds.py $(BUILD)/short.csv < $(BUILD)/judgements.csv
	$(MAKE) --no-print-directory all $(BUILD)/tests/fit/calibrate $(BUILD)/tests/fit/fit
	$(BUILD)/tests/fit/calibrate > $(BUILD)/judgements.csv
	$(BUILD)/tests/fit/calibrate short > $(BUILD)/short.csv
	$(BUILD)/tests/fit/calibrate lots > $(BUILD)/lots.csv
	$(MAKE) --no-print-directory $(JOBS) $(NESTED)
	/usr/bin/python3 tests/fit/report.py $(BUILD) $(NESTED_TRIES) < $(BUILD)/judgements.csv

# Figures fitted without every fourth family, and judged on those.
NESTED_TRIES := 80
NESTED := $(foreach f,0 1 2 3,$(BUILD)/nested$(f).csv)
$(BUILD)/nested%.csv: $(BUILD)/tests/fit/fit
	$(BUILD)/tests/fit/fit nested $* $(NESTED_TRIES) 1 > $@

# --- keeping house --------------------------------------------------------------------------------------
C_FILES := $(shell git ls-files '*.c' '*.h' 2>/dev/null)

format:
	clang-format -i $(C_FILES)

format-check:
	clang-format --dry-run --Werror $(C_FILES)

# clang-tidy reads a file once for as long as nothing it includes has changed; cppcheck reads all of them each time.
# Planted faults show that neither is blind. `make check` does the same (tests/house/test_lint.sh) with one file in LINT_ONE_IN
# only, since both take minutes. What a file says draws it, so that a file that changed is drawn anew, and the same tree always
# gives the same answer.
LINT_ONE_IN ?= 1
LINT_AT := $(BUILD)/lint/$(LINT_ONE_IN)
LINT_C := $(LIB_C) $(CLI_C) $(sort $(wildcard src/gen/*.c))

lint:
	@$(MAKE) --no-print-directory $(JOBS) lint-sources
	@tests/lint/planted.sh $(BUILD)

lint-sources: $(LINT_C:%.c=$(LINT_AT)/%.tidy) | $(GEN_H)
	@echo "  cppcheck"
	$(Q)tests/lint/cppcheck.sh $(BUILD) $$(tests/lint/drawn.sh $(LINT_ONE_IN) $(LINT_C))

$(LINT_AT)/%.tidy: %.c $(BUILD)/%.o .clang-tidy
	@mkdir -p $(@D)
	$(Q)[ -n "$$(tests/lint/drawn.sh $(LINT_ONE_IN) $<)" ] || { : >$@; exit 0; }; \
		echo "  clang-tidy $<"; \
		clang-tidy --quiet $< -- $(ALL_CFLAGS) >$@.log 2>&1 && mv $@.log $@ || { cat $@.log; exit 1; }

# Lines and branches of src that a test takes. Not counted: the branch of an assert that ends the program, since no test may
# take it, and the body of the kernel, which is compiled for three kinds of processor, of which a machine may run one.
GCOVR := gcovr --root . --filter 'src/' --exclude 'src/gen/' --exclude 'src/evidence/kernel_body.h' --exclude-unreachable-branches --exclude-branches-by-pattern '.*\bassert\('

coverage:
	@.ci/packages coverage
	@$(MAKE) --no-print-directory $(JOBS) BUILD=$(BUILD)/coverage CFLAGS='-O0 -g --coverage -DTB_COVERAGE' all tests
	@find $(BUILD)/coverage -name '*.gcda' -delete
	@TB_FAULTS=5 tests/run.sh --commands $(BUILD)/coverage
	@$(GCOVR) --txt $(BUILD)/coverage/report.txt --html-details $(BUILD)/coverage/report.html --json $(BUILD)/coverage/report.json \
		$(BUILD)/coverage
	@sed -n '/^TOTAL/p' $(BUILD)/coverage/report.txt
	@gcovr --add-tracefile $(BUILD)/coverage/report.json --branches | sed -n '/^TOTAL/p'

# Faults planted at random: does a test see them? TB_MUTANTS of them, drawn with TB_SEED, from all of src or from MUTATE.
TB_MUTANTS ?= 200
TB_SEED ?= 1

mutate:
	@.ci/packages check
	@tests/mutate/mutate.py --count $(TB_MUTANTS) --seed $(TB_SEED) --jobs $(shell nproc) $(MUTATE)

# The sentences a translator works on: where they stand in the source, and those that only tables of the program hold.
# After a keyword stands the argument that is looked up; tests/house/test_pot.sh sees that no such function is missing.
POT_C := $(LIB_C) $(CLI_C)
POT_KEYWORDS := _ N_ _n:1,2 TB_WORDS:3 tb_fail:3 tb_within:3 tb_misuse:2 tb_text_say:2 tb_say:2 tb_part:2 tb_clause:2 tb_list_say:2 tb_list_ask:3 tb_row_bad:4 tb_doubt_add:6 \
	tb_law_finding:3 tb_law_finding_as:4 tb_extract_wrong:2 tb_misfit:3 wrong:2 tb_tr:2 tb_trn:2,3 TR_

pot: $(BUILD)/tenterbook.pot $(BUILD)/papers.pot

$(BUILD)/tenterbook.pot: $(BUILD)/pot/tables.c $(POT_C)
	@echo "  sentences $@"
	$(Q)printf 'msgid "%%s"\nmsgstr ""\n' >$(BUILD)/pot/not.po
	$(Q)xgettext --exclude-file=$(BUILD)/pot/not.po --language=C --from-code=UTF-8 --add-comments=TRANSLATORS --package-name=tenterbook \
		--package-version=$(VERSION) --keyword $(POT_KEYWORDS:%=--keyword=%) --output=$@ $(POT_C) $<

$(BUILD)/pot/tables.c: $(BUILD)/gen/potgen
	$(Q)mkdir -p $(@D) && $< >$@

# What papers say, which is translated here: src/text/po has a catalogue for each language, tests/house/test_po.sh compares.
$(BUILD)/papers.pot: $(BUILD)/pot/papers.c $(LIB_C)
	@echo "  sentences $@"
	$(Q)printf 'msgid "%%s"\nmsgstr ""\n' >$(BUILD)/pot/no_paper.po
	$(Q)xgettext --exclude-file=$(BUILD)/pot/no_paper.po --language=C --from-code=UTF-8 --add-comments=TRANSLATORS --no-location --sort-output --package-name=tenterbook \
		--package-version=$(VERSION) --keyword --keyword=tb_tr:2 --keyword=tb_trn:2,3 --keyword=tb_verdict_note:2 --keyword=TR_ --output=$@ $(LIB_C) \
		src/report/draw/qr.h include/tenterbook/standing.h include/tenterbook/goods.h $<

$(BUILD)/pot/papers.c: $(BUILD)/gen/potgen
	$(Q)mkdir -p $(@D) && $< papers >$@

$(BUILD)/gen/potgen: $(BUILD)/src/gen/potgen.o $(filter-out %/main.o,$(CLI_O)) $(LIB)
	$(Q)$(CC) $(CFLAGS) $(LDFLAGS) -o $@ $^ $(LIBS)

$(BUILD)/tenterbook.1: $(BUILD)/tenterbook
	$(Q)$(BUILD)/tenterbook help --man > $@

install: all $(BUILD)/tenterbook.1
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/share/man/man1
	install -m 755 $(BUILD)/tenterbook $(DESTDIR)$(PREFIX)/bin/tenterbook
	install -m 644 $(BUILD)/tenterbook.1 $(DESTDIR)$(PREFIX)/share/man/man1/tenterbook.1
	install -d $(DESTDIR)$(PREFIX)/share/bash-completion/completions
	install -m 644 src/cli/help/tenterbook.bash $(DESTDIR)$(PREFIX)/share/bash-completion/completions/tenterbook

uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/tenterbook $(DESTDIR)$(PREFIX)/share/man/man1/tenterbook.1 \
		$(DESTDIR)$(PREFIX)/share/bash-completion/completions/tenterbook

clean:
	rm -rf $(BUILD)

.PHONY: golden-review all demo check tests units plain test-tools check-run check-unit fuzzers fuzz fuzz-bin bench bench-run counts format format-check \
	lint lint-sources coverage mutate pot install uninstall clean
.SECONDARY:
.DELETE_ON_ERROR:
