# SPDX-License-Identifier: GPL-3.0-or-later
# The tests: programs and scripts run by automake's parallel harness. Nothing writes outside the
# build tree; scratch files go under tests/scratch in it.

# What the tests may rely on: absolute paths of both trees, and the compiler.
# Time limits are there for what hangs: a busy machine, ten times slower, fails nothing.
AM_TESTS_ENVIRONMENT = \
	TOP_SRCDIR='$(abs_top_srcdir)'; export TOP_SRCDIR; \
	TOP_BUILDDIR='$(abs_top_builddir)'; export TOP_BUILDDIR; \
	CC='$(CC)'; export CC; \
	SAN_CFLAGS='$(SAN_CFLAGS)'; export SAN_CFLAGS; \
	OMP_NUM_THREADS=2; export OMP_NUM_THREADS; \
	CK_TIMEOUT_MULTIPLIER=10; export CK_TIMEOUT_MULTIPLIER;

# Everything the program is made of, linked without the limits of the public header.
TEST_LIBS = libdesk.la libreader.la librooms.la $(CONFIG_LIBS) $(GSL_LIBS) $(OPENMP_CFLAGS) -lm
TEST_CPPFLAGS = $(AM_CPPFLAGS) -I$(srcdir)/tests $(GSL_CFLAGS) $(CONFIG_CFLAGS) $(JANSSON_CFLAGS) \
	-DTEST_DATA_DIR='"$(abs_top_srcdir)/tests/data"'

# Folders that exist in the source tree only: automake would also pack their twins in a build tree.
EXTRA_DIST += tests/data tests/cli/cases tests/fuzz/corpus

# ---- house rules, command line, locale, full disk, corpora -----------------------------------

TEST_EXTENSIONS = .sh
scripted_tests = \
	tests/house/floors.sh \
	tests/house/examples.sh \
	tests/house/library.sh \
	tests/house/lists.sh \
	tests/house/page_words.sh \
	tests/house/parts.sh \
	tests/house/schemas.sh \
	tests/house/walks.sh \
	tests/house/words.sh \
	tests/cli/run.sh \
	tests/cli/completion.sh \
	tests/cli/dev_full.sh \
	tests/cli/drive.sh \
	tests/cli/locale.sh \
	tests/cli/places.sh \
	tests/cli/policy_kit.sh \
	tests/cli/policy_shards.sh \
	tests/layout/run.sh \
	tests/readback/run.sh \
	tests/fuzz/replay.sh
layouts = \
	tests/layout/card.txt \
	tests/layout/condition.txt \
	tests/layout/map.txt \
	tests/layout/policy.txt \
	tests/layout/profile.txt \
	tests/layout/range.txt \
	tests/layout/replay.txt \
	tests/layout/rule.txt \
	tests/layout/show.txt \
	tests/layout/why.txt
readback_commands = \
	tests/readback/card.txt \
	tests/readback/condition.txt \
	tests/readback/map.txt \
	tests/readback/policy.txt \
	tests/readback/range.txt \
	tests/readback/replay.txt \
	tests/readback/rule.txt \
	tests/readback/show-life.txt \
	tests/readback/show-mark.txt \
	tests/readback/show-wall.txt \
	tests/readback/why.txt
TESTS += $(scripted_tests)
EXTRA_DIST += $(scripted_tests) tests/readback/readback.py $(readback_commands) tests/layout/layout.py $(layouts)

# ---- the Check runner ------------------------------------------------------------------------

if HAVE_CHECK
check_PROGRAMS += tests/unit/unit
TESTS += tests/unit/unit
tests_unit_unit_SOURCES = \
	tests/unit/ageing.c \
	tests/unit/ageing.h \
	tests/unit/ask.c \
	tests/unit/ask.h \
	tests/unit/bench.c \
	tests/unit/bench.h \
	tests/unit/failing_alloc.c \
	tests/unit/json_struct.c \
	tests/unit/json_struct.h \
	tests/unit/failing_alloc.h \
	tests/unit/judged.c \
	tests/unit/judged.h \
	tests/unit/main.c \
	tests/unit/independent.c \
	tests/unit/independent.h \
	tests/unit/random_case.c \
	tests/unit/random_case.h \
	tests/unit/read_back.c \
	tests/unit/read_back.h \
	tests/unit/rebuilt.c \
	tests/unit/rebuilt.h \
	tests/unit/relation.c \
	tests/unit/relation.h \
	tests/unit/test_advice.c \
	tests/unit/test_ageing.c \
	tests/unit/test_card_rows.c \
	tests/unit/test_case.c \
	tests/unit/test_chart.c \
	tests/unit/test_condition.c \
	tests/unit/test_condition_property.c \
	tests/unit/test_cvode.c \
	tests/unit/test_dialogue.c \
	tests/unit/test_drawn.c \
	tests/unit/test_evidence.c \
	tests/unit/test_history.c \
	tests/unit/test_item.c \
	tests/unit/test_journey.c \
	tests/unit/test_kit.c \
	tests/unit/test_learn.c \
	tests/unit/test_learn_real.c \
	tests/unit/test_likelihood.c \
	tests/unit/test_map.c \
	tests/unit/test_marking.c \
	tests/unit/test_near.c \
	tests/unit/test_physics.c \
	tests/unit/test_policy.c \
	tests/unit/test_policy_files.c \
	tests/unit/test_policy_judge.c \
	tests/unit/test_policy_list.c \
	tests/unit/test_policy_rows.c \
	tests/unit/test_policy_said.c \
	tests/unit/test_posterior.c \
	tests/unit/test_profile.c \
	tests/unit/test_profile_dir.c \
	tests/unit/test_property.c \
	tests/unit/test_quantity.c \
	tests/unit/test_question.c \
	tests/unit/test_range_json.c \
	tests/unit/test_rebuilt.c \
	tests/unit/logs.c \
	tests/unit/logs.h \
	tests/unit/test_log.c \
	tests/unit/test_log_sieve.c \
	tests/unit/test_recording.c \
	tests/unit/test_reference.c \
	tests/unit/test_replay.c \
	tests/unit/test_relation.c \
	tests/unit/simulated.c \
	tests/unit/simulated.h \
	tests/unit/test_calibration.c \
	tests/unit/test_reweigh.c \
	tests/unit/test_rule.c \
	tests/unit/test_shapley.c \
	tests/unit/test_seen.c \
	tests/unit/test_show.c \
	tests/unit/test_status.c \
	tests/unit/test_stop.c \
	tests/unit/test_anchor.c \
	tests/unit/test_approval.c \
	tests/unit/test_cube.c \
	tests/unit/test_levels.c \
	tests/unit/test_spread.c \
	tests/unit/test_study.c \
	tests/unit/test_study_json.c \
	tests/unit/test_study_text.c \
	tests/unit/test_told.c \
	tests/unit/test_why.c \
	tests/unit/test_words.c \
	tests/unit/tsv.c \
	tests/unit/tsv.h
tests_unit_unit_CPPFLAGS = $(TEST_CPPFLAGS) $(CHECK_CFLAGS)
tests_unit_unit_LDADD = $(TEST_LIBS) $(SUNDIALS_LIBS) $(CHECK_LIBS)
# so that tests/unit/failing_alloc.c can refuse memory to our own objects
tests_unit_unit_LDFLAGS = $(AM_LDFLAGS) -Wl,--wrap=malloc,--wrap=calloc,--wrap=free
check-local: check-TESTS
	@test ! -f tests/unit/unit.log || grep -h '^[0-9]*%: Checks:' tests/unit/unit.log
else
check-local: check-TESTS
	@echo 'skipped: the unit tests need the Check library: docs/setup/install-packages.sh tests, then configure again'
endif

# ---- the model against published figures -----------------------------------------------------

check_PROGRAMS += tests/validate/validate
TESTS += tests/validate/validate
tests_validate_validate_SOURCES = \
	tests/validate/middle.c \
	tests/validate/middle.h \
	tests/validate/rows.h \
	tests/validate/rows_drum.c \
	tests/validate/rows_heat.c \
	tests/validate/rows_roll.c \
	tests/validate/validate.c \
	tests/unit/tsv.c \
	tests/unit/tsv.h
tests_validate_validate_CPPFLAGS = $(TEST_CPPFLAGS)
tests_validate_validate_LDADD = $(TEST_LIBS)
GENERATED_DOCS += generated/validation.md
generated/validation.md: tests/validate/validate$(EXEEXT) tests/data/validation.tsv
	@$(MKDIR_P) generated
	$(AM_V_GEN)tests/validate/validate$(EXEEXT) $@.tmp && mv $@.tmp $@
CLEANFILES += validation.md generated/validation.md

# ---- fuzzing ---------------------------------------------------------------------------------
# A target NAME is tests/fuzz/fuzz_NAME.c with its corpus in tests/fuzz/corpus/NAME. make check
# replays the corpus; make fuzz hunts for new inputs. Each target has the same few lines.

FUZZ_TARGETS = climate dialogue fleet journey log marking profile quantity runs
AM_TESTS_ENVIRONMENT += FUZZ_TARGETS='$(FUZZ_TARGETS)'; export FUZZ_TARGETS;
fuzz_engine = $(AM_LDFLAGS) -fsanitize=fuzzer
fuzz_replay = tests/fuzz/replay_main.c tests/fuzz/fuzz.h

check_PROGRAMS += tests/fuzz/replay_marking
tests_fuzz_replay_marking_SOURCES = tests/fuzz/fuzz_marking.c $(fuzz_replay)
tests_fuzz_replay_marking_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_marking
tests_fuzz_fuzz_marking_SOURCES = tests/fuzz/fuzz_marking.c
tests_fuzz_fuzz_marking_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_marking_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_journey
tests_fuzz_replay_journey_SOURCES = tests/fuzz/fuzz_journey.c $(fuzz_replay)
tests_fuzz_replay_journey_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_journey
tests_fuzz_fuzz_journey_SOURCES = tests/fuzz/fuzz_journey.c
tests_fuzz_fuzz_journey_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_journey_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_profile
tests_fuzz_replay_profile_SOURCES = tests/fuzz/fuzz_profile.c $(fuzz_replay)
tests_fuzz_replay_profile_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_profile
tests_fuzz_fuzz_profile_SOURCES = tests/fuzz/fuzz_profile.c
tests_fuzz_fuzz_profile_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_profile_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_quantity
tests_fuzz_replay_quantity_SOURCES = tests/fuzz/fuzz_quantity.c $(fuzz_replay)
tests_fuzz_replay_quantity_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_quantity
tests_fuzz_fuzz_quantity_SOURCES = tests/fuzz/fuzz_quantity.c
tests_fuzz_fuzz_quantity_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_quantity_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_fleet
tests_fuzz_replay_fleet_SOURCES = tests/fuzz/fuzz_fleet.c $(fuzz_replay)
tests_fuzz_replay_fleet_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_fleet
tests_fuzz_fuzz_fleet_SOURCES = tests/fuzz/fuzz_fleet.c
tests_fuzz_fuzz_fleet_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_fleet_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_climate
tests_fuzz_replay_climate_SOURCES = tests/fuzz/fuzz_climate.c $(fuzz_replay)
tests_fuzz_replay_climate_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_climate
tests_fuzz_fuzz_climate_SOURCES = tests/fuzz/fuzz_climate.c
tests_fuzz_fuzz_climate_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_climate_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_runs
tests_fuzz_replay_runs_SOURCES = tests/fuzz/fuzz_runs.c $(fuzz_replay)
tests_fuzz_replay_runs_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_runs
tests_fuzz_fuzz_runs_SOURCES = tests/fuzz/fuzz_runs.c
tests_fuzz_fuzz_runs_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_runs_LDFLAGS = $(fuzz_engine)
endif

check_PROGRAMS += tests/fuzz/replay_log
tests_fuzz_replay_log_SOURCES = tests/fuzz/fuzz_log.c $(fuzz_replay)
tests_fuzz_replay_log_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_log
tests_fuzz_fuzz_log_SOURCES = tests/fuzz/fuzz_log.c
tests_fuzz_fuzz_log_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_log_LDFLAGS = $(fuzz_engine)
endif

# the demo drive: tests/cli/drive.sh holds what is in profiles/drive against what it writes
check_PROGRAMS += tests/demo/drive
tests_demo_drive_SOURCES = tests/demo/drive.c tests/unit/rebuilt.c tests/unit/rebuilt.h
tests_demo_drive_CPPFLAGS = $(AM_CPPFLAGS) -I$(srcdir)/tests/unit $(GSL_CFLAGS)
tests_demo_drive_LDADD = $(GSL_LIBS) -lm

check_PROGRAMS += tests/fuzz/replay_dialogue
tests_fuzz_replay_dialogue_SOURCES = tests/fuzz/fuzz_dialogue.c $(fuzz_replay)
tests_fuzz_replay_dialogue_LDADD = $(TEST_LIBS)
if ENABLE_FUZZ
noinst_PROGRAMS += tests/fuzz/fuzz_dialogue
tests_fuzz_fuzz_dialogue_SOURCES = tests/fuzz/fuzz_dialogue.c
tests_fuzz_fuzz_dialogue_LDADD = $(TEST_LIBS)
tests_fuzz_fuzz_dialogue_LDFLAGS = $(fuzz_engine)
endif

# ---- apart from make check: fuzz and coverage each make a build of their own --------------
EXTRA_DIST += tests/house/tree.sh tests/house/leaks.supp tests/house/valgrind.supp tests/bare-root.sh tests/fuzz/fuzz.sh tests/house/coverage.sh

fuzz:
	@$(AM_TESTS_ENVIRONMENT) $(srcdir)/tests/fuzz/fuzz.sh
coverage:
	@$(AM_TESTS_ENVIRONMENT) $(srcdir)/tests/house/coverage.sh

# ---- make bench: solvers against each other and whole commands, in one run ---------------------
EXTRA_PROGRAMS = tests/bench/bench
tests_bench_bench_SOURCES = tests/bench/bench.c tests/unit/independent.c tests/unit/independent.h
tests_bench_bench_CPPFLAGS = $(TEST_CPPFLAGS) -I$(srcdir)/tests/unit -D_DEFAULT_SOURCE
tests_bench_bench_LDADD = $(TEST_LIBS) $(SUNDIALS_LIBS)
.PHONY: bench
bench: tests/bench/bench hobble
	@$(MKDIR_P) generated
	@HOBBLE_PROFILES='$(abs_top_srcdir)/profiles' ./libtool --mode=execute tests/bench/bench ./hobble \
		>generated/performance.tmp
	@mv generated/performance.tmp generated/performance.md && cat generated/performance.md

# ---- make mutate: faults planted by rule in a copy; which tests find them (DEVELOPERS.md) ---------
EXTRA_DIST += tests/mutate/mutate.py tests/mutate/plant.py
.PHONY: mutate
mutate:
	@PYTHONDONTWRITEBYTECODE=1 TOP_SRCDIR='$(abs_top_srcdir)' TOP_BUILDDIR='$(abs_top_builddir)' \
		/usr/bin/python3 $(srcdir)/tests/mutate/mutate.py

distclean-local:
	test ! -h profiles || rm -f profiles
clean-local:
	rm -rf tests/scratch fuzz coverage mutate
