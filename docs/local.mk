# SPDX-License-Identifier: GPL-3.0-or-later
# Manual pages, and pages that the program writes about itself.

manual_pages = hobble.1 hobble-range.1 hobble-rule.1 hobble-map.1 hobble-why.1 hobble-show.1 \
	hobble-replay.1 hobble-condition.1 hobble-policy.1 hobble-page.1 hobble-card.1 hobble-profile.1
manual_sources = $(manual_pages:%=docs/man/%.scd) docs/man/hobble-keys.5.head.scd \
	docs/man/hobble-fleet.5.head.scd
EXTRA_DIST += $(manual_sources)

if WITH_MAN
man_MANS = $(manual_pages:%=docs/man/%) docs/man/hobble-keys.5 docs/man/hobble-fleet.5
CLEANFILES += $(man_MANS)

# What a command's JSON says stands before SEE ALSO, out of the rows of its answers; a command without
# has no such section.
$(manual_pages:%=docs/man/%): docs/man/%: docs/man/%.scd hobble$(EXEEXT)
	@$(MKDIR_P) docs/man
	$(AM_V_GEN)page=$$(basename $@ .1) && { sed '/^# SEE ALSO/,$$d' $< && \
		./hobble profile answer-manual "$${page#hobble-}" && sed -n '/^# SEE ALSO/,$$p' $<; } | \
		$(SCDOC) >$@.tmp && mv $@.tmp $@

docs/man/hobble-keys.5: docs/man/hobble-keys.5.head.scd hobble$(EXEEXT)
	@$(MKDIR_P) docs/man
	$(AM_V_GEN){ cat $(srcdir)/docs/man/hobble-keys.5.head.scd && ./hobble profile keys-manual && \
		printf '\n# SEE ALSO\n\n*hobble*(1)\n'; } | $(SCDOC) >$@.tmp && mv $@.tmp $@

docs/man/hobble-fleet.5: docs/man/hobble-fleet.5.head.scd hobble$(EXEEXT)
	@$(MKDIR_P) docs/man
	$(AM_V_GEN){ cat $(srcdir)/docs/man/hobble-fleet.5.head.scd && ./hobble profile fleet-manual && \
		printf '\n# SEE ALSO\n\n*hobble-policy*(1), *hobble-keys*(5)\n'; } | $(SCDOC) >$@.tmp && mv $@.tmp $@
endif

# ---- completion, out of the program's own tables ---------------------------------------------
completions = completion/hobble completion/_hobble completion/hobble.fish
bashcompletiondir = $(datadir)/bash-completion/completions
nodist_bashcompletion_DATA = completion/hobble
zshcompletiondir = $(datadir)/zsh/site-functions
nodist_zshcompletion_DATA = completion/_hobble
fishcompletiondir = $(datadir)/fish/vendor_completions.d
nodist_fishcompletion_DATA = completion/hobble.fish
CLEANFILES += $(completions)
completion/hobble: hobble$(EXEEXT)
	@$(MKDIR_P) completion
	$(AM_V_GEN)./hobble --completion bash >$@.tmp && mv $@.tmp $@
completion/_hobble: hobble$(EXEEXT)
	@$(MKDIR_P) completion
	$(AM_V_GEN)./hobble --completion zsh >$@.tmp && mv $@.tmp $@
completion/hobble.fish: hobble$(EXEEXT)
	@$(MKDIR_P) completion
	$(AM_V_GEN)./hobble --completion fish >$@.tmp && mv $@.tmp $@

# ---- what is read: installed too ---------------------------------------------------------------
dist_doc_DATA = README.md SAFETY.md \
	docs/ageing.md \
	docs/answers.md \
	docs/condition-rules.md \
	docs/condition.md \
	docs/convergence.md \
	docs/drives.md \
	docs/evidence-keys.md \
	docs/evidence.md \
	docs/model.md \
	docs/page.md \
	docs/parameters.md \
	docs/performance.md \
	docs/policy.md \
	docs/uncertainty.md \
	docs/validation.md
guidedir = $(docdir)/guide
dist_guide_DATA = \
	docs/guide/driver.md \
	docs/guide/fleet.md \
	docs/guide/tester.md \
	docs/guide/trainer.md
schemadir = $(docdir)/schema
dist_schema_DATA = \
	docs/schema/card.json \
	docs/schema/condition.json \
	docs/schema/map.json \
	docs/schema/policy.json \
	docs/schema/profile.json \
	docs/schema/range.json \
	docs/schema/replay.json \
	docs/schema/rule.json \
	docs/schema/show.json \
	docs/schema/why.json
picturedir = $(docdir)/pictures
dist_picture_DATA = docs/pictures/calibration.svg docs/pictures/drive.svg
exampledir = $(docdir)/examples
dist_example_DATA = docs/examples/answer.c docs/examples/answer.cc

install-data-hook:
	@test -n "$(DESTDIR)" || echo "hobble is installed; for other programs that use libhobble: ldconfig, as root, once"
# Folders go with the last file in them.
uninstall-hook:
	@for folder in $(pkgdatadir)/tyre/runs $(pkgdatadir)/tyre $(pkgdatadir)/vehicle $(pkgdatadir)/rules $(pkgdatadir)/bench \
		$(pkgdatadir)/drive $(pkgdatadir)/fleet $(pkgdatadir) $(docdir)/schema $(docdir)/examples $(docdir)/guide $(docdir)/pictures $(docdir) \
		$(includedir)/hobble $(bashcompletiondir) $(datadir)/bash-completion $(zshcompletiondir) \
		$(datadir)/zsh $(fishcompletiondir) $(datadir)/fish $(pkgconfigdir) $(man1dir) $(man5dir) \
		$(datadir)/doc; do \
		test ! -d "$(DESTDIR)$$folder" || rmdir "$(DESTDIR)$$folder" 2>/dev/null || :; done

# ---- pages for docs/ -------------------------------------------------------------------------
GENERATED_DOCS += generated/parameters.md
generated/parameters.md: hobble$(EXEEXT)
	@$(MKDIR_P) generated
	$(AM_V_GEN)./hobble profile keys -o $@
CLEANFILES += generated/parameters.md
GENERATED_DOCS += generated/evidence-keys.md
generated/evidence-keys.md: hobble$(EXEEXT)
	@$(MKDIR_P) generated
	$(AM_V_GEN)./hobble profile evidence-keys -o $@
CLEANFILES += generated/evidence-keys.md
GENERATED_DOCS += generated/answers.md
generated/answers.md: hobble$(EXEEXT)
	@$(MKDIR_P) generated
	$(AM_V_GEN)./hobble profile answer-keys -o $@
CLEANFILES += generated/answers.md
GENERATED_DOCS += generated/condition-rules.md
generated/condition-rules.md: hobble$(EXEEXT)
	@$(MKDIR_P) generated
	$(AM_V_GEN)./hobble condition --list -o $@
CLEANFILES += generated/condition-rules.md

# Schemas, out of the rows of the answers.
.PHONY: schemas
docs: schemas
schemas: hobble$(EXEEXT)
	@for schema in $(dist_schema_DATA); do command=$${schema##*/}; \
		./hobble profile answer-schema "$${command%.json}" -o $(srcdir)/$$schema || exit 1; done

# How the quantiles settle as members grow: some seconds on every core.
GENERATED_DOCS += generated/convergence.md
generated/convergence.md: hobble$(EXEEXT) docs/convergence.sh
	@$(MKDIR_P) generated
	$(AM_V_GEN)PATH="$(abs_top_builddir):$$PATH" $(srcdir)/docs/convergence.sh >$@.tmp && mv $@.tmp $@
CLEANFILES += generated/convergence.md

# Places of simulated truths (docs/evidence.md): the counts take an hour, the picture none.
docs: picture
.PHONY: picture
picture: docs/calibration.tsv
	$(AM_V_GEN)$(srcdir)/docs/calibration.sh >$(srcdir)/docs/pictures/calibration.svg.tmp && \
		mv $(srcdir)/docs/pictures/calibration.svg.tmp $(srcdir)/docs/pictures/calibration.svg

# The demo drive (docs/drives.md).
CLEANFILES += generated/drive.txt
.PHONY: drive-picture
docs: drive-picture
drive-picture: hobble$(EXEEXT)
	@$(MKDIR_P) generated
	$(AM_V_GEN)./hobble replay $(srcdir)/profiles/drive/shuttle.csv --load 75% --ambient 18C \
		--plot $(srcdir)/docs/pictures/drive.svg -o generated/drive.txt

# ---- profiles --------------------------------------------------------------------------------
tyreprofiledir = $(pkgdatadir)/tyre
dist_tyreprofile_DATA = $(tyre_profiles)
tyrerunsdir = $(pkgdatadir)/tyre/runs
dist_tyreruns_DATA = profiles/tyre/runs/known-16-road.csv
vehicleprofiledir = $(pkgdatadir)/vehicle
dist_vehicleprofile_DATA = $(vehicle_profiles)
rulesdir = $(pkgdatadir)/rules
dist_rules_DATA = $(rule_profiles)
benchdir = $(pkgdatadir)/bench
dist_bench_DATA = profiles/bench/nail.cfg

drivedir = $(pkgdatadir)/drive
dist_drive_DATA = profiles/drive/shuttle.csv profiles/drive/shuttle.gpx \
	profiles/drive/shuttle.jsonl profiles/drive/shuttle.nmea

fleetdir = $(pkgdatadir)/fleet
dist_fleet_DATA = profiles/fleet/demo.cfg profiles/fleet/fellside.epw profiles/fleet/incidents.csv \
	profiles/fleet/lakeside.epw

tyre_profiles = \
	profiles/tyre/compact-15.cfg \
	profiles/tyre/grand-17.cfg \
	profiles/tyre/known-16.cfg \
	profiles/tyre/minibus-17.cfg \
	profiles/tyre/plain-16.cfg \
	profiles/tyre/reach-17.cfg \
	profiles/tyre/sealant-17.cfg \
	profiles/tyre/touring-16.cfg
vehicle_profiles = \
	profiles/vehicle/estate.cfg \
	profiles/vehicle/hatchback.cfg \
	profiles/vehicle/minibus.cfg
rule_profiles = \
	profiles/rules/germany.cfg \
	profiles/rules/japan.cfg \
	profiles/rules/new-zealand.cfg \
	profiles/rules/strictest.cfg \
	profiles/rules/uk.cfg \
	profiles/rules/us.cfg
