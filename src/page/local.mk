# SPDX-License-Identifier: GPL-3.0-or-later
# The page: core and advice compiled once more, for wasm32, with the page's door; bundled with its
# script and styles into one file, which the program carries as bytes.

# What the program adds. The sample is drawn by the same source as the library's, which keeps it to
# itself.
libdesk_la_SOURCES += \
	src/study/cube.c
hobble_SOURCES += \
	src/cli/card.c \
	src/cli/page.c

page_c = \
	src/page/page_answer.c \
	src/page/page_entry.c \
	src/page/page_evidence.c \
	src/page/page_picture.c \
	src/page/page_entry.h \
	src/page/page_evidence.h
page_scripts = \
	src/page/classroom.js \
	src/page/controls.js \
	src/page/core.js \
	src/page/d3.js \
	src/page/lessons.js \
	src/page/page.js \
	src/page/pictures.js \
	src/page/question.js \
	src/page/roadside.js \
	src/page/steps.js \
	src/page/verdict.js \
	src/page/words.js \
	src/page/work.js
page_other = src/page/page.css src/page/page.html
page_builders = src/page/build-words.sh src/page/build-bytes.sh src/page/build-module.sh src/page/build-template.sh
EXTRA_DIST += $(page_c) $(page_scripts) $(page_other) $(page_builders)

page_tests = tests/page/run.sh tests/page/card.sh
EXTRA_DIST += $(page_tests) tests/page/agree.mjs tests/page/browser.mjs tests/page/carried.mjs \
	tests/page/native.mjs tests/page/tell.mjs tests/page/package.json tests/page/package-lock.json
if WITH_PDF
TESTS += tests/page/card.sh
endif

if ENABLE_PAGE
TESTS += tests/page/run.sh
nodist_libdesk_la_SOURCES = src/page/template.c
CLEANFILES += src/page/template.c src/page/template.html src/page/hobble.wasm src/page/table.js

src/page/hobble.wasm: $(page_c) src/hobble.h $(librooms_la_SOURCES) src/page/build-module.sh configure.ac
	@$(MKDIR_P) src/page
	$(AM_V_GEN)$(srcdir)/src/page/build-module.sh '$(WASM_CC)' $(srcdir)/src $(PACKAGE_VERSION) $(abs_builddir)/$@
src/page/table.js: $(words_file) src/page/build-words.sh
	@$(MKDIR_P) src/page
	$(AM_V_GEN)$(srcdir)/src/page/build-words.sh '$(CC) -E' $(words_file) $@
src/page/template.html: src/page/hobble.wasm src/page/table.js $(page_scripts) $(page_other) src/page/build-template.sh
	$(AM_V_GEN)$(srcdir)/src/page/build-template.sh $(srcdir)/src src/page/table.js $(builddir)/src/page/hobble.wasm '$(ESBUILD)' '$(D3_DIR)' $@
src/page/template.c: src/page/template.html src/page/build-bytes.sh
	$(AM_V_GEN)$(srcdir)/src/page/build-bytes.sh src/page/template.html $@
endif
