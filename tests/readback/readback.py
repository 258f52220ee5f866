#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""What hobble prints, read back: every number of a text, table, sheet or picture against the JSON of
the same question, rounded to the safe side.

readback.py COMMAND.txt... : each file holds for one command the questions to draw from and what its
forms say, as patterns with places for the JSON's values; "full?" is what few questions see. It fails on a number
that is more favourable than the computed one or further off than its step, on a number that no pattern
reads, on a pattern that never matched, and on a row of the answer's description that stands on a form
and was never read there.

Lengths and forces of other units: international yard and pound agreement, 1959; NIST SP 811."""
import csv, html, json, os, random, re, shlex, subprocess, sys, tempfile
from math import isclose

MILE, FOOT_POUND = 1.609344, 4.4482216152605
# name in patterns: symbol and factor of what the JSON has; symbol and conversion in US units
UNITS = {
    "km": ("km", "mi", lambda v: v / MILE),
    "kmh": ("km/h", "mph", lambda v: v / MILE),
    "n": ("N", "lbf", lambda v: v / FOOT_POUND),
    "kg": ("kg", "lb", lambda v: v / 0.45359237),
    "c": ("\u00b0?C", "\u00b0?F", lambda v: v * 1.8 + 32.0),
    "k": ("K", "K", lambda v: v),
    "kpa": ("kPa", "psi", lambda v: v / 6.894757293168361),
    "mm": ("mm", "in", lambda v: v / 25.4),
    "min": ("min", "min", lambda v: v),
    "years": ("years", "years", lambda v: v),
    "%": ("%", "%", lambda v: v),
    "1": ("", "", lambda v: v),
}
NUMBER = r"[-+]?[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?"
PLACE = re.compile(r"\{([^{}]+)\}")
HAIR = 2e-8  # the JSON has nine digits


class Fault(Exception):
    pass


def values(node, path, place):
    """The value at a dotted path; '*' is the item at place of the list there, '*key=word' of those of its
    items that have the word ('@PATH': the word there), '*/N' the place-th of N+1 spread evenly, '%' the middle one, '#' the last."""
    whole = node
    for step in path.split("."):
        if isinstance(node, list):
            if "=" in step:
                key, word = step[1:].split("=")
                word = whole[word[1:]] if word.startswith("@") else word
                node = [item for item in node if item[key] == word]
            if "/" in step:
                even = int(step[2:])
                if place > even:
                    raise IndexError
                node = node[(len(node) - 1) * place // even]
            elif step == "#":
                node = node[-1]
            elif step == "%":
                node = node[len(node) // 2]
            else:
                node = node[place if step[0] == "*" else int(step)]
        else:
            node = node[step]
    return node


class Place:
    """{PATH UNIT SIDE STEP [fine] [bare] [cut=LIST]}: fine is a tenth of the step below 10, bare without unit,
    cut with ">" before it where the list names the path's last step. {=PATH} text, {:PATH} its first sentence,
    {~PATH} a word, {?} a number that the JSON has not, {! TEXT} not followed by that, {index PATH}, {way PATH}, {per PATH} and so on as in_full() has them, {|ONE|OTHER} one of these. A path may be a sum of two."""

    def __init__(self, text, us):
        words = text.split()
        self.path = words[0].lstrip("=~:")
        self.kind = words[0][0] if words[0][0] in "=~?!:|" else "#"
        self.after = text[1:].strip()
        if self.kind != "#":
            return
        self.unit, self.side, self.step = words[1], words[2], float(words[3])
        self.fine, self.bare = "fine" in words[4:], "bare" in words[4:]
        self.cut = next((w[4:] for w in words[4:] if w.startswith("cut=")), None)
        self.times = 100.0 if self.unit == "%" else 1.0
        self.us = us
        self.symbol = UNITS[self.unit][1 if us else 0]

    def regex(self, answer, place):
        if self.kind == "?":
            return NUMBER
        if self.kind == "|":
            return "(?:%s)" % "|".join(loose(one) for one in self.after.split("|"))
        if self.kind == "!":
            return r"(?!\s*%s)" % loose(self.after)
        if self.kind in "=~:":
            value = str(values(answer, self.path, place))
            value = re.split("[:.]", value)[0] if self.kind == ":" else value
            return loose(value.replace("_", " ") if self.kind == "~" else value)
        more = "> " if self.cut and self.path.split(".")[-1] in values(answer, self.cut, place) else ""
        return more + "(%s)%s" % (NUMBER, r"\s?" + self.symbol if self.symbol and not self.bare else "")

    def check(self, shown, answer, place):
        parts = [values(answer, path, place) for path in self.path.split("+")]
        if None in parts:
            raise Fault("%s is null, and %s is printed" % (self.path, shown))
        value = float(sum(parts)) * self.times
        if self.us:
            value = UNITS[self.unit][2](value)
        step = self.step / 10.0 if self.fine and value < 10.0 - 1e-9 else self.step
        if self.side == "rel":
            if not isclose(float(shown), value, rel_tol=self.step):
                raise Fault("%s is %.9g and %s is printed" % (self.path, value, shown))
            return
        off, hair = float(shown) - value, HAIR * max(abs(value), 1.0)
        low, high = {"down": (-step, 0.0), "up": (0.0, step), "near": (-0.5 * step, 0.5 * step)}[self.side]
        if not low - hair < off < high + hair:
            raise Fault("%s is %.9g and %s is printed (%s by %g)" % (self.path, value, shown, self.side, step))


BLANK = r"\s+(?:\|\s+)?"  # a picture's labels stand between bars, and a long sentence is several


def loose(text):
    """Blanks match any blanks, so that wrapping does not matter; the library's degC is shown as °C."""
    return BLANK.join(re.escape(w) for w in text.split(" ")).replace("degC", "(?:deg|°)C")


SHORT = re.compile(r"\{(index|air|share|way|advice|learnt|cell|per|chance|good|speed|why|pays) ([^{}]+)\}")


def in_full(kind, path, answer, place):
    """Places whose form goes by the value: a sensitivity index with its interval, as far as it has them; a way
    in whole units or a word to stop, of advice in tenths below ten; what is learnt; a share to three digits; a chance up, or what is good down; a policy's speed,
    its reasons and where a construction pays."""
    value = values(answer, path, place)
    if kind in ("chance", "good"):
        side = "up" if kind == "chance" else "down"
        return "<0.01 %" if 0 < value < 1e-4 else "{%s %% %s %s}" % (path, side, ".01" if value < .0995 else ".1")
    if kind == "speed":
        return "-" if value is None else "{%s kmh down 1}" % path
    if kind == "why":
        return ("{|UNSAFE, STOP:|STOP:}" if value["verdict"] == "stop" else "UNSAFE at 80 km/h:" if value["rule_stop_reasons"]
                else "UNSAFE: fails above {?} %" if value["rule_unsafe"]
                else "wasteful: " + in_full("chance", path + ".under_rule.lost", answer, place) + " lost" if value["rule_wasteful"]
                else "holds" if value["rule_holds"] else "within limit")
    if kind == "pays":
        return {"itself": "-", "always": "at any rate", "never": "at no rate"}.get(
            value["self_supporting_pays"], "{|below|from} {%s.break_even_punctures_per_100000_km 1 rel 5.1e-3} (now {?})" % path)
    if kind == "way":
        return "{%s km down 1}" % path if value > 0 else "{|stop|STOP}"
    if kind == "advice":
        return "{%s km down 1 fine}" % path if value > 0 else "STOP"
    if kind == "learnt":  # what is advised then, and how likely the verdict turns
        turns = "not known" if value["go_and_stop_turn"] is None else "{%s.go_and_stop_turn %% near 1}" % path
        best = "at best " if value["at_best"] and value["advice_km"] > 0 else ""
        return best + in_full("advice", path + ".advice_km", answer, place) + " " + turns
    if kind == "share":
        return "-" if value is None else "{%s 1 near .01}" % path
    if kind == "air":
        return "-" if value is None else "{%s kpa near 1}" % path
    if kind == "cell":
        return "{%s km down 1 bare}" % path if value > 0 else "STOP"
    if kind == "per":
        return "0 %" if value == 0 else "under 0.01 %" if value < 1e-4 else "{%s %% rel 5.1e-3}" % path
    if value is None:
        return "-"
    text = "{%s 1 near .01}" % path
    if values(answer, path + "_ci", place) is None:
        return text
    return text + " ({%s_ci.0 1 near .01}..{%s_ci.1 1 near .01})" % (path, path)


class Pattern:
    def __init__(self, form, text):
        self.form, self.text, self.met, self.uncompared = form.rstrip("?"), text, 0, 0
        self.rare = form.endswith("?")

    def read(self, printed, answer, us, covered, faults, seen):
        repeated = ".*" in self.text
        position, place = 0, 0
        while True:
            places, regex, end = [], "", 0
            try:
                text = SHORT.sub(lambda m: in_full(m.group(1), m.group(2), answer, place), self.text)
                for m in PLACE.finditer(text):
                    one = Place(m.group(1), us)
                    regex += loose(text[end:m.start()]) + one.regex(answer, place)
                    places.append(one)
                    end = m.end()
            except (KeyError, IndexError, TypeError):
                return
            regex += loose(text[end:])
            regex = regex.replace(BLANK + BLANK, BLANK)  # an empty word between blanks
            found = re.compile(r"(?<![0-9.])" + regex).search(printed, position)
            if not found:
                return
            numbers = iter(found.groups())
            for one in places:
                for path in one.path.split("+"):
                    seen.add((self.form, re.sub(r"\.([0-9]+\b|\*[^.]*|[%#])", ".*", path)))
                if one.kind == "#":
                    try:
                        one.check(next(numbers), answer, place)
                        self.met += 1
                    except Fault as fault:
                        faults.append("%s: %s" % (self.text, fault))
                elif one.kind == "?":
                    self.uncompared += 1
            self.met += all(p.kind != "#" for p in places)
            covered.append(found.span())
            position, place = found.end(), place + repeated


class Command:
    """One file: its fixed options, what may be asked, its forms' options, and the patterns."""

    def __init__(self, path):
        self.name = os.path.basename(path).rsplit(".", 1)[0]
        self.count, self.words, self.matrices, self.cells = 40, {}, [], 0
        self.command, self.fixed, self.may, self.forms, self.patterns, self.csv = None, "", [], {}, [], []
        for line in open(path, encoding="utf-8"):
            line = line.rstrip("\n")
            if not line or line.startswith("#"):
                continue
            head, rest = line.split(" ", 1)
            if head == "questions":
                self.count = int(os.environ.get("READBACK_QUESTIONS", rest))
            elif head == "command":
                self.command = rest
            elif head == "always":
                self.fixed += " " + rest
            elif head == "may":
                chance, options = rest.split(" ", 1)
                self.may.append((float(chance), options))
            elif head == "form":
                form, how = rest.split(" ", 1)
                self.forms[form] = how
            elif head == "csv":
                self.csv.append(tuple(rest.rsplit(" ", 1)))
            elif head == "each":
                name, *each = rest.split()
                self.words[name] = each
            elif head == "matrix":
                self.matrices.append(rest)
            elif "$" in rest:
                name = re.search(r"\$([A-Z]+)", rest).group(1)
                self.patterns += [Pattern(form, rest.replace("$" + name, word)) for form in head.split(",") for word in self.words[name]]
            else:
                self.patterns += [Pattern(form, rest) for form in head.split(",")]

    def question(self, source):
        parts = [self.command + self.fixed]
        for chance, options in self.may:
            if source.random() < chance:
                options = source.choice(options.split(" | "))
                parts.append(re.sub(r"\{([-0-9.]+)\.\.([-0-9.]+)\}",
                                    lambda m: "%.4g" % source.uniform(float(m.group(1)), float(m.group(2))), options))
        return " ".join(parts)


def run(words, **more):
    return subprocess.run(words, stdin=subprocess.DEVNULL, capture_output=True, text=True, encoding="utf-8", **more)


def printed_form(form, how, words):
    """The text of a form: what the command prints, or what stands in the file that it writes."""
    if " X." not in how:
        done = run(words + shlex.split(how) if how != "-" else words)
        return done.stdout, done
    name = tempfile.mktemp(suffix=re.search(r"\.[a-z]+$", how).group(0), dir=".")
    done = run(words + shlex.split(how.rsplit(" ", 1)[0]) + [name])
    text = ""
    if name.endswith(".pdf") and os.path.exists(name):
        text = run(["pdftotext", "-layout", name, "-"]).stdout
    elif os.path.exists(name):
        text = open(name, encoding="utf-8").read()
        if name.endswith(".svg"):
            labels = (html.unescape(re.sub(r"<[^>]+>", "", t)).strip() for t in re.findall(r"<text[^>]*>(.*?)</text>", text, re.S))
            text = " | ".join(t for t in labels if not re.fullmatch(NUMBER, t.replace("\u2212", "-")))  # but the ticks of axes
    if os.path.exists(name):
        os.unlink(name)
    return text, done


def read_matrix(how, printed, answer, us, seen, form):
    """A table whose first line and first column are (some of) two axes' values: every cell."""
    path, unit, side, step, cut, across, up = how.split()
    faults, columns, read = [], None, 0
    seen.update({(form, path), (form, across), (form, up)})

    def shown(axis):
        one = values(answer, axis.rsplit(".", 1)[0], 0)
        kinds = {"km/h": "kmh", "N": "n", "C": "c", "kPa": "kpa", "mm": "mm", "K": "k"}
        by = UNITS[kinds[one["unit"]]][2] if us and one["unit"] in kinds else lambda v: v
        return [by(v) * (100.0 if one["name"] == "load_share" else 1.0) for v in one["values"]]

    def nearest(axis, text):
        place = min(range(len(axis)), key=lambda i: abs(axis[i] - float(text)))
        if not isclose(axis[place], float(text), rel_tol=6e-3, abs_tol=0.06):
            raise Fault("%s is no value of the axis" % text)
        return place

    x, y = shown(across), shown(up)
    for line in printed.split("\n"):
        cells = line.split()
        try:
            if columns is None and len(cells) > 1 and all(re.fullmatch(NUMBER, c) for c in cells):
                columns = [nearest(x, c) for c in cells]
            elif columns and len(cells) == len(columns) + 1 and re.fullmatch(NUMBER, cells[0]):
                row = nearest(y, cells[0])
                for column, cell in zip(columns, cells[1:]):
                    number = re.match(">?(%s)" % NUMBER, cell)
                    value = values(answer, path, 0)[row][column]
                    more = values(answer, cut, 0)[row][column]
                    if (number is None) != (value is None) or more != cell.startswith(">"):
                        raise Fault("%s is %s and %s is printed" % (path, value, cell))
                    if number:
                        one = Place("%s %s %s %s" % (path, unit, side, step), us)
                        one.check(number.group(1), {path.split(".")[0]: nested(path, value)}, 0)
                    read += 1
        except Fault as fault:
            faults.append(str(fault))
    if not read:
        faults.append("no cell of %s was found" % path)
    return faults, read


def nested(path, value):
    """{"b": value} for "a.b": what a path below its first step finds."""
    for step in reversed(path.split(".")[1:]):
        value = {step: value}
    return value


def read_csv(command, printed, answer, seen):
    """Every cell of a table in CSV: 'csv COLUMN PATH' is what a column holds, item by item."""
    faults, lines = [], list(csv.reader(printed.splitlines()))
    paths = dict((column, path) for column, path in command.csv)
    for line_number, line in enumerate(lines[1:]):
        for place, (column, cell) in enumerate(zip(lines[0], line)):
            column = column if column in paths else "@%d" % place
            if column not in paths:
                faults.append("no row tells of the column %s" % column)
                continue
            seen.add(("csv", re.sub(r"\.\*", ".*", paths[column])))
            command.cells += 1
            try:
                value = cell_value(answer, paths[column], line_number)
            except (KeyError, IndexError) as fault:
                faults.append("%s: nothing at %s (%s)" % (column, paths[column], fault))
                continue
            same = (cell == "" if value is None else cell == value if isinstance(value, str)
                    else isclose(float(cell), float(value), rel_tol=2e-8, abs_tol=1e-12))
            if not same:
                faults.append("%s, line %d: %s, and %s is %s" % (column, line_number, cell, paths[column], value))
    if len(lines) < 2:
        faults.append("an empty table")
    return faults


def cell_value(answer, path, line):
    """'*' is the line's item, and 'PATH=WORD' whether that is the word; of a matrix 'PATH.x' and 'PATH.y' are the line's place on the axes, 'PATH.xy' its cell."""
    if "=" in path:
        path, word = path.split("=")
        return values(answer, path, line) == word
    if path.split(".")[-1] not in ("x", "y", "xy"):
        return values(answer, path, line)
    base, kind = path.rsplit(".", 1)
    across = len(answer["axes"][0]["values"])
    found = values(answer, base, 0)
    return found[line % across] if kind == "x" else found[line // across] if kind == "y" else found[line // across][line % across]


def numbers_left(printed, covered):
    left = list(printed)
    for start, end in covered:
        left[start:end] = " " * (end - start)
    return re.findall(r"\S*[0-9]\S*", "".join(left))


def read_one(command, form, printed, answer, us, seen):
    faults, covered = [], []
    if form == "csv":
        return read_csv(command, printed, answer, seen)
    for how in command.matrices:
        where, rest = how.split(" ", 1)
        if where == form:
            bad, read = read_matrix(rest, printed, answer, us, seen, form)
            faults += bad
            command.cells += read
            printed = "\n".join(l for l in printed.split("\n") if not re.fullmatch(r"\s*(?:%s|rim|[-?>\s])+" % NUMBER, l))
    printed = re.sub(r"\s+", " ", printed.replace("\u00a0", " ").replace("\u2212", "-").replace("\u2019", "'"))
    for pattern in command.patterns:
        if pattern.form == form:
            pattern.read(printed, answer, us, covered, faults, seen)
    faults += ["no pattern reads %s" % left for left in numbers_left(printed, covered)]
    return faults


def read_command(command, seen):
    source, asked, bad = random.Random(20261127), 0, []
    for i in range(command.count):
        words = ["hobble"] + shlex.split(os.path.expandvars(command.question(source)))
        us = i % 2 == 1
        words += ["--units", "us"] if us else []
        done = run(words + ["--json"])
        if not done.stdout.startswith("{"):
            if os.environ.get("READBACK_SHOW"):
                print("refused:", shlex.join(words), done.stderr)
            continue
        answer = json.loads(done.stdout)
        asked += 1
        for form, how in command.forms.items():
            printed, done = printed_form(form, how, words)
            if "Traceback" in done.stderr or (not printed and done.returncode not in (0, 1)):
                continue  # a form that this question has not
            for fault in read_one(command, form, printed, answer, us, seen):
                bad.append("%s [%s]: %s" % (shlex.join(words), form, fault))
    return asked, bad


def rows_unread(command, seen):
    """Rows of the description that stand on a form and were never read there."""
    on = {}
    for line in run(["hobble", "profile", "answer-forms"]).stdout.splitlines():
        name, path, forms = line.split("\t")
        if name == command.name.replace("-", " "):
            on[path] = forms.split()
    left = []
    for path, forms in on.items():
        for form in forms:
            if form in command.forms and (form, path) not in seen:
                left.append("%s on %s is never read" % (path, form))
    return left


def main():
    failed = 0
    for path in sys.argv[1:]:
        command, seen = Command(path), set()
        asked, bad = read_command(command, seen)
        bad += ["never matched [%s]: %s" % (p.form, p.text) for p in command.patterns if not p.met and not p.rare]
        bad += rows_unread(command, seen)
        compared = sum(p.met for p in command.patterns) + command.cells
        print("%s: %d questions, %d readings compared, %d not in the JSON, %d faults"
              % (command.name, asked, compared, sum(p.uncompared for p in command.patterns), len(bad)))
        for fault in bad[:40]:
            print("  fault: " + fault)
        failed += bool(bad) or asked < command.count // 2
    return bool(failed)


sys.exit(main())
