# SPDX-License-Identifier: GPL-3.0-or-later
# The sources, one a line, room by room; tests/house/lists.sh fails when a file is not listed.

include_HEADERS += src/hobble.h
hobblepartsdir = $(includedir)/hobble
hobbleparts_HEADERS = \
	src/hobble/bench.h \
	src/hobble/evidence.h \
	src/hobble/log.h \
	src/hobble/replay.h \
	src/hobble/policy.h \
	src/hobble/studies.h
pkgconfigdir = $(libdir)/pkgconfig
pkgconfig_DATA = src/libhobble.pc

# ---- the rooms of libhobble: core, advice, solve, study --------------------------------------

noinst_LTLIBRARIES += librooms.la
librooms_la_SOURCES = \
	src/core/anchor.c \
	src/core/build.c \
	src/core/integrate.c \
	src/core/integrate_base.c \
	src/core/journey.c \
	src/core/leak.c \
	src/core/marking.c \
	src/core/marking_print.c \
	src/core/marking_reader.c \
	src/core/marking_rest.c \
	src/core/param.c \
	src/core/setting.c \
	src/core/physics.c \
	src/core/status.c \
	src/core/tables.c \
	src/core/tyre.c \
	src/advice/advise.c \
	src/advice/condition.c \
	src/advice/construction.c \
	src/advice/date_code.c \
	src/advice/ensemble.c \
	src/advice/facts.c \
	src/advice/facts_check.c \
	src/advice/history.c \
	src/advice/likelihood.c \
	src/advice/levels.c \
	src/advice/question.c \
	src/advice/reweigh.c \
	src/advice/seen.c \
	src/solve/reference.c \
	src/solve/threads.c \
	src/study/age.c \
	src/study/case.c \
	src/study/case_evidence.c \
	src/study/condition.c \
	src/study/cube.c \
	src/study/evidence_item.c \
	src/study/evidence_words.c \
	src/study/fill_in.c \
	src/study/item_likelihood.c \
	src/study/learn.c \
	src/study/quantile_by.c \
	src/study/map.c \
	src/study/posterior.c \
	src/study/policy_cost.c \
	src/study/policy_fleet.c \
	src/study/policy_judge.c \
	src/study/policy_list.c \
	src/study/policy_reach.c \
	src/study/policy_rule.c \
	src/study/policy_shift.c \
	src/study/policy_solve.c \
	src/study/range.c \
	src/study/rule.c \
	src/study/shapley.c \
	src/study/show_life.c \
	src/study/recording.c \
	src/study/recording_legs.c \
	src/study/replay.c \
	src/study/replay_band.c \
	src/study/replay_evidence.c \
	src/study/show_mark.c \
	src/study/show_wall.c \
	src/study/sobol.c \
	src/study/study.c \
	src/study/subset.c \
	src/study/why.c \
	src/study/words.c \
	src/core/anchor.h \
	src/core/build.h \
	src/core/const.h \
	src/core/integrate.h \
	src/core/integrate.inc \
	src/core/integrate_end.inc \
	src/core/integrate_step.inc \
	src/core/journey.h \
	src/core/leak.h \
	src/core/marking_reader.h \
	src/core/marking_rest.h \
	src/core/param.h \
	src/core/setting.h \
	src/core/param_rows.inc \
	src/core/physics.h \
	src/core/physics.inc \
	src/core/tables.h \
	src/core/tyre.h \
	src/core/vector.h \
	src/advice/advise.h \
	src/advice/condition.h \
	src/advice/condition_facts.inc \
	src/advice/condition_rules.inc \
	src/advice/construction.h \
	src/advice/date_code.h \
	src/advice/ensemble.h \
	src/advice/facts.h \
	src/advice/history.h \
	src/advice/likelihood.h \
	src/advice/levels.h \
	src/advice/question.h \
	src/advice/reweigh.h \
	src/advice/seen.h \
	src/solve/reference.h \
	src/solve/threads.h \
	src/study/case.h \
	src/study/cube.h \
	src/study/evidence_item.h \
	src/study/evidence_words.h \
	src/study/evidence_rows.inc \
	src/study/policy.h \
	src/study/policy_rows.inc \
	src/study/show.h \
	src/study/learn.h \
	src/study/quantile_by.h \
	src/study/recording.h \
	src/study/replay_band.h \
	src/study/shapley.h \
	src/study/posterior.h \
	src/study/sobol.h \
	src/study/study.h \
	src/study/subset.h
librooms_la_CPPFLAGS = $(AM_CPPFLAGS) $(GSL_CFLAGS)
librooms_la_LIBADD =

# The integrator again, for wider registers: libraries of their own because their flags differ.
if HAVE_AVX2_BUILD
noinst_LTLIBRARIES += libavx2.la
libavx2_la_SOURCES = src/core/integrate_avx2.c
libavx2_la_CFLAGS = $(AM_CFLAGS) $(AVX2_CFLAGS)
librooms_la_LIBADD += libavx2.la
endif
if HAVE_AVX512_BUILD
noinst_LTLIBRARIES += libavx512.la
libavx512_la_SOURCES = src/core/integrate_avx512.c
libavx512_la_CFLAGS = $(AM_CFLAGS) $(AVX512_CFLAGS)
librooms_la_LIBADD += libavx512.la
endif

# ---- what reads profiles: of the library and, with the names it keeps to itself, of the program ----

noinst_LTLIBRARIES += libreader.la
libreader_la_SOURCES = \
	src/input/config_scan.c \
	src/input/config_text.c \
	src/input/csv_text.c \
	src/input/evidence.c \
	src/input/fault.c \
	src/input/log.c \
	src/input/log_csv.c \
	src/input/log_gpx.c \
	src/input/log_json.c \
	src/input/log_names.c \
	src/input/log_nmea.c \
	src/input/log_sieve.c \
	src/input/near.c \
	src/input/profile.c \
	src/input/quantity.c \
	src/input/retired.c \
	src/input/runs.c \
	src/input/setting.c \
	src/input/config_scan.h \
	src/input/config_text.h \
	src/input/csv_text.h \
	src/input/evidence.h \
	src/input/fault.h \
	src/input/log_parts.h \
	src/input/near.h \
	src/input/profile.h \
	src/input/quantity.h \
	src/input/retired.h \
	src/input/runs.h \
	src/input/setting.h
libreader_la_CPPFLAGS = $(AM_CPPFLAGS) $(CONFIG_CFLAGS) $(JANSSON_CFLAGS) $(EXPAT_CFLAGS)
libreader_la_LIBADD = $(CSV_LIBS) $(JANSSON_LIBS) $(EXPAT_LIBS)

lib_LTLIBRARIES += libhobble.la
libhobble_la_SOURCES = src/input/profile_public.c
libhobble_la_LIBADD = librooms.la libreader.la $(GSL_LIBS) $(CONFIG_LIBS) -lm
# Only the names of hobble.h leave the library. Its number, CURRENT:REVISION:AGE by libtool's rules:
# REVISION + 1 with every release; a name of tests/data/symbols.txt added: CURRENT + 1, AGE + 1,
# REVISION 0; a name or a public struct changed or removed: CURRENT + 1, the others 0.
libhobble_la_LDFLAGS = $(AM_LDFLAGS) -version-info 0:0:0 -no-undefined \
	-export-symbols-regex '^hobble_'

# ---- input and report, and the dialogue, which tests call: what the program adds to the library ----------------------------------

noinst_LTLIBRARIES += libdesk.la
libdesk_la_SOURCES = \
	src/cli/condition_ask.c \
	src/cli/condition_choice.c \
	src/cli/condition_kept.c \
	src/cli/condition_line.c \
	src/input/climate.c \
	src/input/data_dir.c \
	src/input/evidence_write.c \
	src/input/fleet.c \
	src/input/fleet_climate.c \
	src/input/fleet_lists.c \
	src/input/fleet_reading.c \
	src/input/incidents.c \
	src/input/journey.c \
	src/input/profile_dir.c \
	src/input/profile_list.c \
	src/input/profile_new.c \
	src/input/profile_write.c \
	src/report/describe/answers.c \
	src/report/describe/card.c \
	src/report/describe/card_rows.c \
	src/report/describe/condition_list_rows.c \
	src/report/describe/condition_rows.c \
	src/report/describe/condition_words.c \
	src/report/describe/drawn.c \
	src/report/describe/end_rows.c \
	src/report/describe/evidence_rows.c \
	src/report/describe/few.c \
	src/report/describe/figure.c \
	src/report/describe/head_rows.c \
	src/report/describe/map_rows.c \
	src/report/describe/map_words.c \
	src/report/describe/mark_rows.c \
	src/report/describe/message.c \
	src/report/describe/policy_fleet_rows.c \
	src/report/describe/policy_rows.c \
	src/report/describe/policy_rule_rows.c \
	src/report/describe/policy_table_rows.c \
	src/report/describe/policy_words.c \
	src/report/describe/profile_rows.c \
	src/report/describe/range_advice.c \
	src/report/describe/range_rows.c \
	src/report/describe/range_words.c \
	src/report/describe/row.c \
	src/report/describe/rule_rows.c \
	src/report/describe/replay_rows.c \
	src/report/describe/screen.c \
	src/report/describe/show_rows.c \
	src/report/describe/why_rows.c \
	src/report/describe/word_lists.c \
	src/report/describe/words.c \
	src/report/json/csv.c \
	src/report/json/json.c \
	src/report/json/keys.c \
	src/report/json/render.c \
	src/report/json/schema.c \
	src/report/out.c \
	src/report/paper/card_draw.c \
	src/report/paper/kit.c \
	src/report/paper/kit_check.c \
	src/report/paper/lettering.c \
	src/report/paper/page.c \
	src/report/paper/page_none.c \
	src/report/paper/policy_sheet.c \
	src/report/paper/sheet.c \
	src/report/parts.c \
	src/report/picture/chart.c \
	src/report/picture/chart_contour.c \
	src/report/picture/chart_field.c \
	src/report/picture/chart_map.c \
	src/report/picture/chart_parts.c \
	src/report/picture/chart_show.c \
	src/report/picture/chart_replay.c \
	src/report/picture/chart_why.c \
	src/report/picture/gnuplot.c \
	src/report/picture/map_grid.c \
	src/report/picture/policy_chart.c \
	src/report/text/condition_text.c \
	src/report/text/explain.c \
	src/report/text/lines.c \
	src/report/text/map_text.c \
	src/report/text/policy_text.c \
	src/report/text/range_first.c \
	src/report/text/range_text.c \
	src/report/text/reference.c \
	src/report/text/rule_text.c \
	src/report/text/replay_text.c \
	src/report/text/show_text.c \
	src/report/text/table.c \
	src/report/text/why_text.c \
	src/report/version.c \
	src/input/climate.h \
	src/input/data_dir.h \
	src/input/fleet.h \
	src/input/fleet_parts.h \
	src/input/fleet_reading.h \
	src/input/incidents.h \
	src/input/journey.h \
	src/input/profile_dir.h \
	src/report/describe/answers.h \
	src/report/describe/card.h \
	src/report/describe/condition_words.h \
	src/report/describe/drawn.h \
	src/report/describe/evidence_rows.h \
	src/report/describe/english.inc \
	src/report/describe/few.h \
	src/report/describe/figure.h \
	src/report/describe/map_words.h \
	src/report/describe/message.h \
	src/report/describe/policy.h \
	src/report/describe/policy_rows.h \
	src/report/describe/profile_rows.h \
	src/report/describe/range_words.h \
	src/report/describe/row.h \
	src/report/describe/replay.h \
	src/report/describe/screen.h \
	src/report/describe/word_lists.h \
	src/report/describe/words.h \
	src/report/json/json.h \
	src/report/json/render.h \
	src/report/out.h \
	src/report/paper/card_draw.h \
	src/report/paper/kit.h \
	src/report/paper/lettering.h \
	src/report/paper/page.h \
	src/report/paper/policy_sheet.h \
	src/report/paper/sheet.h \
	src/report/parts.h \
	src/report/picture/chart_field.h \
	src/report/picture/chart_parts.h \
	src/report/picture/charts.h \
	src/report/picture/gnuplot.h \
	src/report/picture/map_grid.h \
	src/report/text/answers.h \
	src/report/text/explain.h \
	src/report/text/lines.h \
	src/report/text/range.h \
	src/report/text/reference.h \
	src/report/text/table.h \
	src/report/version.h
libdesk_la_CPPFLAGS = $(AM_CPPFLAGS) $(WORDS_CPPFLAGS) $(GSL_CFLAGS) -DHOBBLE_PROFILE_DIR='"$(pkgdatadir)"' \
	-DHOBBLE_BIN_DIR='"$(bindir)"' $(CONFIG_CFLAGS) $(JANSSON_CFLAGS) $(SMARTCOLS_CFLAGS) $(PDF_CFLAGS)
libdesk_la_LIBADD = $(PDF_LIBS) $(JANSSON_LIBS) $(SMARTCOLS_LIBS)

# ---- the program -----------------------------------------------------------------------------

bin_PROGRAMS += hobble
hobble_SOURCES = \
	src/cli/complete.c \
	src/cli/condition.c \
	src/cli/field.c \
	src/cli/finish.c \
	src/cli/main.c \
	src/cli/map.c \
	src/cli/options.c \
	src/cli/options_rows.inc \
	src/cli/notes.c \
	src/cli/outputs.c \
	src/cli/parts.c \
	src/cli/policy.c \
	src/cli/policy_files.c \
	src/cli/print.c \
	src/cli/profile.c \
	src/cli/progress.c \
	src/cli/range.c \
	src/cli/rule.c \
	src/cli/replay.c \
	src/cli/show.c \
	src/cli/today.c \
	src/cli/why.c \
	src/cli/cli.h \
	src/cli/complete.h \
	src/cli/condition.h \
	src/cli/field.h \
	src/cli/notes.h \
	src/cli/parts.h \
	src/cli/policy.h \
	src/cli/progress.h \
	src/cli/today.h
hobble_CPPFLAGS = $(libdesk_la_CPPFLAGS)
# It finds the library by its own place, so it starts without ldconfig, also where all was moved to.
hobble_LDFLAGS = $(AM_LDFLAGS) -Wl,-rpath,'$$ORIGIN/$(libdir_from_bindir)'
hobble_LDADD = libdesk.la libreader.la libhobble.la $(CONFIG_LIBS) $(GSL_LIBS) -lm
