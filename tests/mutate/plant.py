# SPDX-License-Identifier: GPL-3.0-or-later
"""Faults by rule: where in a C source a small fault can be planted, and what the line then says.

A rule looks at code alone: comments, texts and preprocessor lines (but #define) are blanked first."""
import hashlib
import re

NUMBER = re.compile(r"(?<![\w.])(?:\d+\.\d*(?:e[+-]?\d+)?|\d+e[+-]?\d+|\d+)(?![\w.])")
COMPARE = re.compile(r"(?<= )(?:<=|>=|==|!=|<|>)(?= )")
OTHER_COMPARE = {"<": ("<=", ">"), "<=": ("<", ">="), ">": (">=", "<"), ">=": (">", "<="),
                 "==": ("!=",), "!=": ("==",)}
WORDS = {"fmin": "fmax", "fmax": "fmin", "floor": "ceil", "ceil": "floor", "round": "floor",
         "lround": "(long)floor", "true": "false", "false": "true"}
SIGNS = {"+": "-", "-": "+", "*": "/", "/": "*", "+=": "-=", "-=": "+=", "&&": "||", "||": "&&"}
CALL = re.compile(r"^\s+(?:\(void\))?(\w+)\(.*\);\s*$")
RELEASES = re.compile(r"free$|close$|^free")  # memory: the sanitized tests look after that
STORE = re.compile(r"^\s+(?:\w+(?:->|\.|\[)[^=;]*|\w+ [-+|&*]|\*\w+ )=(?!=).*;\s*$")
ROW = re.compile(r"^\s*(?:\[\w+\] = )?(?:\{.*\}|[A-Z_]+\(.*\)),?\s*$")
ALL_NOTHING = re.compile(r"= \{+$")  # {0}, {false} begin a list, most often that of nothing at all
ROOM = re.compile(r"\b(?:double|int|long|char|bool|size_t|(?:struct|enum) \w+) \w+(?:\[\w+\])*\[$")
TYPED = re.compile(r"^((?:const |struct |enum |unsigned )*\w+) ([\w\s,*\[\]]+)$")


def code_only(text):
    """The text with all that is no code blanked, place for place."""
    blank = lambda m: re.sub(r"[^\n]", " ", m.group())
    text = re.sub(r'/\*.*?\*/|//[^\n]*|"(?:\\.|[^"\\\n])*"|\'(?:\\.|[^\'\\\n])*\'', blank, text,
                  flags=re.S)
    return re.sub(r"(?m)^#(?!define \w+ )(?:.*\\\n)*.*$", blank, text)


def neighbours(headers):
    """Fields of one type that stand side by side in a struct: name -> names."""
    beside = {}
    for text in headers:
        for body in re.findall(r"struct[^;{}()]*\{([^{}]*)\}", code_only(text)):
            last = (None, None)
            for declared in body.split(";"):
                typed = TYPED.match(" ".join(declared.split()))
                for name in typed.group(2).split(",") if typed else ():
                    name = re.sub(r"[*\s]|\[.*", "", name)
                    if last[0] == typed.group(1):
                        beside.setdefault(name, set()).add(last[1])
                        beside.setdefault(last[1], set()).add(name)
                    last = (typed.group(1), name)
                if not typed:
                    last = (None, None)
    return {name: sorted(others) for name, others in beside.items()}


def closing(line, start):
    """Place after the bracket that closes the one at start; None when it is on another line."""
    depth = 0
    for i in range(start, len(line)):
        depth += (line[i] in "([{") - (line[i] in ")]}")
        if depth == 0:
            return i + 1
    return None


def term_end(line, start, sign):
    """Where the term that begins at start ends; None when it goes on behind the line."""
    stop = re.compile(r" (?:&&|\|\|) " if sign in ("&&", "||") else r" (?:[-+<>]|[<>=!]=|&&|\|\|) ")
    i = start
    while i < len(line):
        if line[i] in "([{":
            i = closing(line, i)
            if i is None:
                return None
        elif line[i] in ",;)]}?:" or stop.match(line, i):
            return i
        else:
            i += 1
    return None


def number_changed(text):
    if re.fullmatch(r"\d+", text):
        value = int(text)
        return [str(value + 1)] + ([str(value - 1)] if value > 0 else [])
    value = float(text)
    if value == 0.0:
        return ["0.01"]
    return [repr(float("%.6g" % (value * share))) for share in (1.05, 0.95)]


def changes(line, beside):
    """Every fault of one blanked line: (rule, from, to, what stands there instead)."""
    for m in NUMBER.finditer(line):
        if ALL_NOTHING.search(line[:m.start()]) or ROOM.search(line[:m.start()]):
            continue
        for new in number_changed(m.group()):
            yield "constant", m.start(), m.end(), new
    for m in COMPARE.finditer(line):
        for new in OTHER_COMPARE[m.group()]:
            yield "comparison", m.start(), m.end(), new
    for m in re.finditer(r"\b(?:%s)\b" % "|".join(WORDS), line):
        if ALL_NOTHING.search(line[:m.start()]):
            continue
        rule = "yes and no" if m.group() in ("true", "false") else "rounding, extremes"
        yield rule, m.start(), m.end(), WORDS[m.group()]
    for m in re.finditer(r"(?<= )(?:[-+]=|[-+*/]|&&|\|\|)(?= )", line):
        yield "and, or" if m.group() in ("&&", "||") else "sign", m.start(), m.end(), SIGNS[m.group()]
        end = term_end(line, m.end() + 1, m.group())
        if end is not None and m.group() in ("+", "-", "&&", "||"):
            yield "dropped term", m.start() - 1, end, ""
    for m in re.finditer(r"(?:->|\.)([a-z]\w*)\b(?!\()", line):
        for other in beside.get(m.group(1), ()):
            yield "swapped field", m.start(1), m.end(1), other
    for m in re.finditer(r"\bif (?=\()", line):
        end = closing(line, m.end())
        if end is not None:
            yield "negated condition", m.end(), end, "(!" + line[m.end():end] + ")"
    call = CALL.match(line)
    if (call and not RELEASES.search(call.group(1)) and call.group(1) != "return") or STORE.match(line):
        yield "dropped statement", len(line) - len(line.lstrip()), len(line.rstrip()), ";"
    if ROW.match(line) and closing(line.strip().rstrip(","), 0 if line.strip()[0] in "({" else
                                   max(line.strip().find("("), line.strip().find("{"), 0)):
        yield "dropped row", 0, len(line), ""


class Fault:
    def __init__(self, path, number, rule, old, new, before):
        """before: how many lines say the same further up."""
        self.path, self.number, self.rule, self.old, self.new = path, number, rule, old, new
        name = "\n".join((path, old.strip(), new.strip())) + (":%d" % before if before else "")
        self.key = hashlib.sha1(name.encode()).hexdigest()[:12]

    def planted(self, text):
        lines = text.split("\n")
        lines[self.number - 1] = self.new
        return "\n".join(lines)


def faults(path, text, beside):
    """All that can be planted in a file; what is put in stands in the text as it was written."""
    lines, met = text.split("\n"), {}
    for i, blanked in enumerate(code_only(text).split("\n")):
        before = met[lines[i].strip()] = met.get(lines[i].strip(), -1) + 1
        for rule, start, end, new in changes(blanked, beside):
            if rule == "constant" and path.endswith("_rows.inc"):
                continue  # an input with its provenance beside it: a test could only say it again
            if rule == "negated condition":
                new = "(!" + lines[i][start:end] + ")"
            changed = lines[i][:start] + new + lines[i][end:]
            if changed != lines[i]:
                yield Fault(path, i + 1, rule, lines[i], changed, before)


def sample(all_faults, random):
    """Every fault in an order in which each rule has its turn."""
    by_rule = {}
    for fault in all_faults:
        by_rule.setdefault(fault.rule, []).append(fault)
    for some in by_rule.values():
        random.shuffle(some)
    while by_rule:
        for rule in sorted(by_rule):
            yield by_rule[rule].pop()
            if not by_rule[rule]:
                del by_rule[rule]
