#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""make mutate: plants small faults by rule in a copy of the sources, one at a time, and asks which test
finds each. See DEVELOPERS.md. Environment:
  MUTATE_ROOMS    folders below src (report study advice)
  MUTATE_COUNT    faults for each room (30)         MUTATE_SEED  which ones (1)
  MUTATE_JOBS     copies worked on at a time (1)    MUTATE_LEAST share to be found, % (90)
  MUTATE_ONLY     keys of faults, as printed: these alone, explained ones too
  MUTATE_TESTS    regular expression: only these tests are asked, "unit" for a quick look (all)
  MUTATE_PAGE     1: build with the page, and ask the page's tests where a fault is the page's"""
import collections
import hashlib
import os
import plant
import random
import re
import resource
import shutil
import subprocess
import sys
import tempfile
import threading
import time

TOP = os.environ["TOP_SRCDIR"]
WORK = os.path.join(os.environ["TOP_BUILDDIR"], "mutate")
EXPLAINED = os.path.join(TOP, "tests/data/mutants-explained.tsv")
PAGE = os.environ.get("MUTATE_PAGE") == "1"
PROGRAMS = ["hobble", "tests/unit/unit", "tests/validate/validate"]
# Shorter samples of the random tests; a longer look is the test's own matter.
SHORTER = {"HOBBLE_RELATIONS": "100", "HOBBLE_TEST_CASES": "60", "HOBBLE_TOLD": "40",
           "OMP_NUM_THREADS": "2", "CK_TIMEOUT_MULTIPLIER": "10", "CC": "gcc", "LC_ALL": "C.UTF-8"}

# Which suites and cases are asked earlier, by words in the path of the changed file. Only the order
# rests on this: a fault that they miss meets all the others.
CLOSE = [
    ("report/", "told kit chart range_json range cards"), ("policy", "policy policy_judge policy_list policy_files kit"),
    ("map", "map"), ("show", "show"), ("chart", "chart"), ("why", "why"), ("sobol", "why"),
    ("rule", "rule told"), ("subset", "map rule"), ("condition", "condition condition_property"),
    ("fact", "condition condition_property"), ("date", "condition"),
    ("history", "question seen stop condition"), ("seen", "seen condition"),
    ("question", "question stop"), ("construction", "question marking"), ("case", "question study"),
    ("advise", "advice stop"), ("ensemble", "advice study question"), ("cube", "study"),
    ("study/study", "study"), ("range", "told range_json study range"), ("card", "kit told"),
    ("few", "condition"), ("words", "words told kit"), ("figure", "words told kit"),
    ("explain", "main profile"), ("advice/", "advice question stop property"), ("study/", "study property"),
]
# Scripts that ask the program; a script that cannot see a change of an answer is left out.
SCRIPTS = ["tests/house/parts.sh", "tests/house/page_words.sh", "tests/house/schemas.sh", "tests/house/examples.sh",
           "tests/cli/locale.sh", "tests/cli/dev_full.sh", "tests/cli/places.sh",
           "tests/cli/policy_shards.sh", "tests/cli/policy_kit.sh", "tests/cli/completion.sh"]
# What a file of src/report with this in its name is read back and asked for; one with none of them, for all.
# Leaving the other commands out saves time and can only lower the share that is found.
COMMANDS = {"range": "range card", "end": "range card", "rule": "rule policy", "map": "map", "why": "why",
            "show": "show", "mark": "show", "condition": "condition", "policy": "policy", "kit": "policy",
            "card": "card policy"}
REPORTED = re.compile(r'"report/|"json_struct|"read_back')

Test = collections.namedtuple("Test", "name command seconds")


def limits():
    """A fault may make a program eat all there is."""
    resource.setrlimit(resource.RLIMIT_AS, (6 << 30, 6 << 30))
    resource.setrlimit(resource.RLIMIT_FSIZE, (4 << 30, 4 << 30))


def sees(test, path):
    """Whether a test is asked about a file of src/report: not the suites that know nothing of that room, nor what is
    another command's than the file, nor the page about what is not in it. Any test is asked about other rooms."""
    kind, _, of = test.partition(" ")
    if not path.startswith("src/report/"):
        return True
    if kind == "page":
        return "page" in path or path.endswith(".inc")
    if kind == "unit":
        return REPORTED.search(open("%s/tests/unit/test_%s.c" % (TOP, of)).read()) is not None
    asked = {w for word in re.split("[/_.]", path) for w in COMMANDS.get(word, "").split()}
    others = {w for names in COMMANDS.values() for w in names.split()} - asked
    return kind not in ("cli", "layout", "readback") or not asked or of.split("-")[0] not in others


class Copy:
    """A copy of the sources with a build of its own."""

    def __init__(self, place, paths):
        """paths: of the files in which faults may be planted."""
        self.source, self.build = (os.path.join(WORK, str(place), part) for part in ("source", "build"))
        shutil.rmtree(os.path.dirname(self.source), ignore_errors=True)  # objects of the last fault, too
        leave = shutil.ignore_patterns(".git", "autom4te.cache", ".build", "mutate-*", "*.o", "*.lo",
                                       "*.la", ".libs", ".deps", "config.status", "scratch")
        within = os.path.abspath(WORK)
        shutil.copytree(TOP, self.source, symlinks=True, ignore=lambda folder, names:
                        leave(folder, names) | {n for n in names
                                                if os.path.abspath(os.path.join(folder, n)) == within})
        os.makedirs(self.build, exist_ok=True)
        self.env = dict(os.environ, **SHORTER, TOP_SRCDIR=self.source, TOP_BUILDDIR=self.build,
                        CCACHE_NOHASHDIR="1", CCACHE_BASEDIR=os.path.join(WORK, str(place)))
        self.env.pop("MAKEFLAGS", None)
        self.env.pop("MAKELEVEL", None)
        self.run([self.source + "/configure", "-q", "--disable-shared", "--enable-page=" + ("yes" if PAGE else "no"),
                  "CFLAGS=-O2", "CC=" + ("ccache gcc" if shutil.which("ccache") else "gcc")], 600, must=True)
        # What no test that is asked runs need not be linked again for each fault.
        self.asked = [p for p in PROGRAMS if p == "hobble" or p in [t.command[0] for t in self.every_test()]]
        self.make(must=True, what=["all"])
        self.make(must=True)
        self.whole = self.programs()
        self.tests = [t._replace(seconds=s) for t in self.every_test()
                      if any(sees(t.name, path) for path in paths) for s in [self.timed(t)]]
        print("%d tests pass without any fault, %.0f s" % (len(self.tests), sum(t.seconds for t in self.tests)),
              flush=True)

    def run(self, command, seconds, must=False):
        """Exit status; None when it took too long."""
        with tempfile.TemporaryFile() as said:  # a file: a grandchild that hangs would keep a pipe open
            child = subprocess.Popen(command, cwd=self.build, env=self.env, stdin=subprocess.DEVNULL,
                                     stdout=said, stderr=subprocess.STDOUT,
                                     start_new_session=True, preexec_fn=limits)
            try:
                child.wait(timeout=seconds)
                status = child.returncode
            except subprocess.TimeoutExpired:  # Check gives each test a group of its own: the session goes
                subprocess.run(["pkill", "-KILL", "-s", str(child.pid)])
                child.wait()
                status = None
            said.seek(0)
            told = said.read()
        if must and status not in (0, 77):
            sys.exit("mutate: without any fault: %s: status %s\n%s"
                     % (" ".join(command), status, told.decode(errors="replace")[-2000:]))
        return status

    def make(self, must=False, what=None):
        return self.run(["make", "-s", "-j2"] + (what or self.asked), 900, must) == 0

    def programs(self):
        return [hashlib.sha1(open(os.path.join(self.build, p), "rb").read()).digest() for p in self.asked]

    def every_test(self):
        return [t for t in self.whole_list() if re.match(os.environ.get("MUTATE_TESTS", ""), t.name)]

    def whole_list(self):
        suites = re.findall(r"X\((\w+)\)", open(self.source + "/tests/unit/main.c").read())
        for suite in dict.fromkeys(s for s in suites if s not in ("name", "cvode", "reference")):
            yield Test("unit " + suite, ["tests/unit/unit", suite], 0)
        for case in sorted(os.listdir(self.source + "/tests/cli/cases")):
            yield Test("cli " + case.removesuffix(".case"),
                       [self.source + "/tests/cli/run.sh", self.source + "/tests/cli/cases/" + case], 0)
        for kind in ("layout", "readback"):
            for name in sorted(os.listdir(self.source + "/tests/" + kind)):
                if name.endswith(".txt"):
                    yield Test(kind + " " + name.removesuffix(".txt"),
                               ["%s/tests/%s/run.sh" % (self.source, kind), "%s/tests/%s/%s" % (self.source, kind, name)], 0)
        if PAGE:
            for part in ("agree", "browser"):
                yield Test("page " + part, ["env", "PAGE_PART=" + part, self.source + "/tests/page/run.sh"], 0)
        yield Test("validate", ["tests/validate/validate"], 0)
        for script in SCRIPTS:
            yield Test(os.path.basename(script), [os.path.join(self.source, script)], 0)

    def timed(self, test):
        """Seconds that a test takes without any fault. One that passed before, on the same bytes, is not run again."""
        known = os.path.join(WORK, "passed", self.rests_on(test))
        if not os.path.exists(known):
            begun = time.monotonic()
            self.run(test.command, 900, must=True)
            os.makedirs(os.path.dirname(known), exist_ok=True)
            with open(known, "w") as file:
                print(time.monotonic() - begun, file=file)
        return float(open(known).read())

    def rests_on(self, test):
        """Digest of what a test reads: program, data, profiles, its own file and the scripts that stand beside it."""
        own = [word for word in test.command if word.startswith(self.source)]
        beside = {os.path.dirname(word) for word in own}
        shared = {os.path.join(self.source, name) for name in ("profiles", "docs", "tests/data")}
        files = {os.path.join(folder, name) for top in beside | shared for folder, _, names in os.walk(top)
                 for name in names if top in shared or not name.endswith((".txt", ".case"))}
        digest = hashlib.sha1(test.name.encode())
        for name in sorted(files | set(own)) + [os.path.join(self.build, test.command[0] if not own else "hobble")]:
            digest.update(open(name, "rb").read())
        return digest.hexdigest()

    def ordered(self, path):
        """The cheaper before the dearer, those of a file's own matter as if they cost a quarter."""
        close = {w for word, names in CLOSE if word in path for w in names.split()}
        return sorted((t for t in self.tests if sees(t.name, path)),
                      key=lambda t: t.seconds * (0.25 if t.name.split()[-1] in close else 1.0))

    def found_by(self, fault):
        """Name of the first test that fails; "" when none does; None when there is nothing to find."""
        place = os.path.join(self.source, fault.path)
        text = open(place).read()
        try:
            with open(place, "w") as file:
                file.write(fault.planted(text))
            if not self.make() or self.programs() == self.whole:
                return None
            for test in self.ordered(fault.path):
                if self.run(test.command, 30 + 8 * test.seconds) not in (0, 77):
                    return test.name
            return ""
        finally:
            with open(place, "w") as file:
                file.write(text)


def explained():
    rows = [line.split("\t") for line in open(EXPLAINED) if line.strip() and line[0] != "#"]
    return {row[0]: row[-1].strip() for row in rows}


def all_faults(room):
    files = sorted(os.path.join(folder, name) for folder, _, names in os.walk(os.path.join(TOP, "src"))
                   for name in names if name.endswith((".c", ".h", ".inc")))
    texts = {os.path.relpath(name, TOP): open(name).read() for name in files}
    beside = plant.neighbours(texts.values())
    return [fault for path in texts if path.startswith("src/%s/" % room) and not path.endswith(".h")
            for fault in plant.faults(path, texts[path], beside)]


class Room:
    """Faults of one room, handed out one at a time until enough of them were worth planting."""

    def __init__(self, name, count, seed, only, reasons):
        self.name, self.count, self.reasons, self.only = name, count, reasons, only
        here = all_faults(name)
        self.keys = {fault.key for fault in here}
        self.paths = {fault.path for fault in here if not only or fault.key in only}
        self.next = iter([f for f in here if f.key in only] if only else
                         plant.sample(here, random.Random("%s:%s" % (seed, name))))
        self.asked, self.rows, self.lock = 0, {}, threading.Lock()

    def take(self):
        with self.lock:
            fault = None if not self.only and len(self.rows) >= self.count else next(self.next, None)
            self.asked += 1
            return self.asked, fault

    def work(self, copy):
        while True:
            place, fault = self.take()
            if fault is None:
                return
            begun = time.monotonic()
            known = not self.only and fault.key in self.reasons
            by = "explained" if known else copy.found_by(fault)
            if by is None:
                continue
            with self.lock:
                self.rows[place] = (fault, by, time.monotonic() - begun)
            print("%-9s %s:%d: %s: %s (%.0f s)" % (self.name, fault.path, fault.number, fault.rule,
                                                    by or "SURVIVED", time.monotonic() - begun), flush=True)

    def result(self):
        """The same rows with any number of jobs."""
        return [self.rows[place] for place in sorted(self.rows)][:None if self.only else self.count]


def tell(rooms, least):
    planted = good = 0
    with open(os.path.join(WORK, "mutants.tsv"), "w") as table:
        print("# key\troom\tfile\tline\trule\tby\tseconds\tbefore\tafter", file=table)
        for room in rooms:
            for f, by, seconds in room.result():
                print(f.key, room.name, f.path, f.number, f.rule, by or "survived", "%.0f" % seconds,
                      f.old.strip(), f.new.strip(), sep="\t", file=table)
    print("\n%-10s %8s %6s %10s %9s  by" % ("room", "planted", "found", "explained", "survived"))
    for room in rooms:
        by = collections.Counter(row[1] for row in room.result())
        n, known, lost = sum(by.values()), by.pop("explained", 0), by.pop("", 0)
        planted, good = planted + n, good + n - lost
        print("%-10s %8d %6d %10d %9d  %s" % (room.name, n, n - known - lost, known, lost,
              ", ".join("%s %d" % each for each in by.most_common())))
    for room in rooms:
        for f, by, _ in room.result():
            if by == "":
                print("\n%s %s:%d: %s\n  - %s\n  + %s" % (f.key, f.path, f.number, f.rule,
                                                        f.old.strip(), f.new.strip()))
    share = 100.0 * good / max(planted, 1)
    print("\n%d planted, %d found or explained: %.0f %%; all in %s" % (planted, good, share,
                                                                   os.path.join(WORK, "mutants.tsv")))
    return 0 if planted > 0 and share >= least else 1


def main():
    env = os.environ.get
    only = set(env("MUTATE_ONLY", "").replace(",", " ").split())
    reasons = explained()
    rooms = [Room(name, int(env("MUTATE_COUNT", "30")), env("MUTATE_SEED", "1"), only, reasons)
             for name in env("MUTATE_ROOMS", "report study advice").split()]
    every = {key for room in rooms for key in room.keys}
    if "MUTATE_ROOMS" not in os.environ and not reasons.keys() <= every:
        sys.exit("mutate: explained, but no longer there: " + " ".join(reasons.keys() - every))
    jobs = int(env("MUTATE_JOBS", "1"))
    paths = {path for room in rooms for path in room.paths}
    copies = [Copy(place, paths) for place in range(jobs)]
    for room in rooms:
        workers = [threading.Thread(target=room.work, args=(copy,)) for copy in copies]
        for worker in workers:
            worker.start()
        for worker in workers:
            worker.join()
    return tell(rooms, float(env("MUTATE_LEAST", "90")))


if __name__ == "__main__":
    sys.exit(main())
