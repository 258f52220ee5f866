// SPDX-License-Identifier: GPL-3.0-or-later
// The core behind its door (page_entry.c): sets rows, asks, reads the answer. No number is made
// here and no verdict: what the page shows comes out of the module as it is shown.
const SAY = { FIELD: 0, KIND: 1, STOP_WORD: 2, STOP: 3, OUTSIDE: 4, RULE_ID: 5, RULE: 6, SOURCE: 7,
  MARKING: 8, STATUS: 9, FAULT_KEY: 10, FAULT_ALLOWED: 11, END: 12, VERSION: 13, VERDICT: 14,
  LIMIT: 15, REMEDY: 16, ASSUMED: 17, CONDEMNED: 18, CONSTRUCTION: 19, SKIPPED: 20, AGAINST: 21 };
const STOPS_MOST = 32;

export function bytes_of(base64) {
  const text = atob(base64.trim());
  return Uint8Array.from(text, (c) => c.charCodeAt(0));
}

export async function unpack(base64) {
  const stream = new Blob([bytes_of(base64)]).stream().pipeThrough(new DecompressionStream('gzip'));
  return new Response(stream).arrayBuffer();
}

// The sample: the first points as whole numbers of 2^-27, exactly as the program has them, the rest of 1/4096.
export function cube_of(data) {
  const first = Float64Array.from(new Int32Array(bytes_of(data.cube).buffer), (x) => x / 2 ** 27);
  const rest = new Int16Array(bytes_of(data.cube_rest).buffer);
  const all = new Float64Array(first.length + rest.length);
  all.set(first);
  for (let i = 0; i < rest.length; i++) all[first.length + i] = rest[i] / 4096;
  return all;
}

export class Core {
  // seed: that of the sample, which what takes evidence in goes on from.
  constructor(module, cube, seed) {
    this.seed = seed;
    this.x = new WebAssembly.Instance(module).exports;
    this.encoder = new TextEncoder();
    this.decoder = new TextDecoder();
    this.rows = new Map();
    new Float64Array(this.x.memory.buffer, this.x.page_cube(), cube.length).set(cube);
    this.fields = [];
    for (let i = 0; i < this.x.page_fields(); i++)
      this.fields.push({ name: this.text(SAY.FIELD, i), kind: this.text(SAY.KIND, i) });
    this.version = this.text(SAY.VERSION, 0);
  }

  put(text) {
    const size = this.x.page_text_size();
    const room = new Uint8Array(this.x.memory.buffer, this.x.page_text(), size);
    const { written } = this.encoder.encodeInto(text.slice(0, size), room.subarray(0, size - 1));
    room[written] = 0;
  }

  text(what, i) {
    const length = this.x.page_say(what, i);
    return this.decoder.decode(new Uint8Array(this.x.memory.buffer, this.x.page_text(), length).slice());
  }

  row(key) {
    if (!this.rows.has(key)) {
      this.put(key);
      this.rows.set(key, this.x.page_row());
    }
    return this.rows.get(key);
  }

  limits(key) {
    const row = this.row(key);
    return [0, 1, 2].map((which) => this.x.page_limit(row, which));
  }

  // One line of a question: a number, a spread, a word or a text, minutes.
  put_line([how, key, value]) {
    switch (how) {
      case 'number': return this.x.page_set_number(this.row(key), value);
      case 'spread': return this.x.page_set_spread(this.row(key), value);
      case 'text': { const row = this.row(key); this.put(value); return this.x.page_set_text(row); }
      case 'evidence': return this.put_item(value);
      case 'minutes': return this.x.page_set_minutes_since(value);
      default: return -1;
    }
  }

  // An item of evidence, as the program wrote it: the first fault, or 0.
  put_item({ kind, origin, source, rows, channels }) {
    const say_text = (text, which) => { this.put(text); return this.x.page_item_text(which); };
    let status = this.x.page_item_begin(kind) || say_text(source, 0) || say_text(origin, 1);
    for (const [key, value] of rows) { this.put(key); status = status || this.x.page_item_put(value); }
    for (const [channel, offset, scatter, times, read] of channels) {
      status = status || this.x.page_item_channel(channel, offset, scatter);
      times.forEach((time, i) => { status = status || this.x.page_item_reading(channel, time, read[i]); });
    }
    return status || this.x.page_item_add();
  }

  // Sets a question; what cannot be set, or null.
  set(lines) {
    this.x.page_clear();
    for (const line of [['number', 'seed', this.seed], ...lines]) {
      const status = this.put_line(line);
      if (status !== 0) return this.fault(status, line[1]);
    }
    return null;
  }

  // Whether an answer comes at once: not where evidence has to be taken in first.
  ready(lines, members) {
    return this.set(lines) !== null || this.x.page_ready(members) === 1;
  }

  // What was taken in for the question that was asked last, for another core; null where there is nothing.
  kept(members) {
    const at = this.x.page_kept(members), size = this.x.page_kept_size();
    return at === 0 ? null : new Uint8Array(this.x.memory.buffer, at, size).slice();
  }
  keep(bytes) {
    new Uint8Array(this.x.memory.buffer, this.x.page_keep_here(), bytes.length).set(bytes);
  }

  ask(lines, members, us, quick) {
    const bad = this.set(lines);
    if (bad) return bad;
    const status = this.x.page_ask(members, us ? 1 : 0, quick ? 1 : 0);
    return status === 0 ? this.read(members, us, quick) : this.fault(status, '');
  }

  fault(status, key) {
    return { status, key: this.text(SAY.FAULT_KEY, 0) || key, why: this.text(SAY.STATUS, status),
      allowed: this.text(SAY.FAULT_ALLOWED, 0) };
  }

  read(members, us, quick) {
    const a = { status: 0, members, us, quick, value: {}, decimals: {}, kind: {}, stops: [], outside: [], rules: [], assumed: [] };
    this.fields.forEach(({ name, kind }, i) => {
      a.value[name] = this.x.page_get(i);
      a.decimals[name] = this.x.page_decimals(i);
      a.kind[name] = kind;
    });
    for (let i = 0; i < STOPS_MOST; i++) {
      const word = this.text(SAY.STOP_WORD, i);
      if (word) a.stops.push({ word, text: this.text(SAY.STOP, i), remedy: this.text(SAY.REMEDY, i) });
    }
    for (let i = 0; i < a.value.outside_count; i++) a.outside.push(this.text(SAY.OUTSIDE, i));
    for (let i = 0; i < a.value.rule_count; i++)
      a.rules.push({ id: this.text(SAY.RULE_ID, i), text: this.text(SAY.RULE, i), source: this.text(SAY.SOURCE, i) });
    for (let i = 0; i < a.value.assumed_count; i++) a.assumed.push(this.text(SAY.ASSUMED, i));
    a.verdict = this.text(SAY.VERDICT, 0);
    a.limit = this.text(SAY.LIMIT, 0);
    a.condemned = this.text(SAY.CONDEMNED, 0);
    a.end = this.text(SAY.END, a.value.usual_end);
    a.marking = this.text(SAY.MARKING, 0);
    a.skipped = this.text(SAY.SKIPPED, 0);
    a.against = this.text(SAY.AGAINST, 0);
    return a;
  }

  // Pictures of the last question; SI, rows of numbers.
  picture(name, width, ...arguments_) {
    const rows = this.x[name](...arguments_);
    const all = new Float64Array(this.x.memory.buffer, this.x.page_out(), rows * width);
    return Array.from({ length: rows }, (_, i) => Array.from(all.subarray(i * width, (i + 1) * width)));
  }
  way(metres) { return this.picture('page_way', 7, metres); }
  section(metres) { return this.picture('page_section', 15, metres); }
  map_place(speed, share) {
    return this.x.page_map(speed, share) === 2 ? Array.from(new Float64Array(this.x.memory.buffer, this.x.page_out(), 2)) : null;
  }
}
