// SPDX-License-Identifier: GPL-3.0-or-later
// Page against program: hundreds of questions, every number to one in its last printed digit, every
// verdict and reason the same. Source of what is right: the program (its own tests say why).
// agree.mjs PROGRAM PAGE.html PAGE-US.html QUESTIONS
import { spawnSync } from 'node:child_process';
import { open_page, dice } from './carried.mjs';
import { words_of, ask_program, shown } from './native.mjs';
import { check, sum } from './tell.mjs';
import { SLIDERS, CHOICES, slider_of, built_in, seats, lines_of, OWN } from './page/question.js';

const [program, metric, us, count] = process.argv.slice(2);
const MARKINGS = ['205/55 RF16 91V', '225/45 ZRF17 94W XL', '275/40 RF20 106Y', '205/55 R16 91V', 'LT235/75R15', '185/65 RF15 88H', 'nonsense'];
const FIRST = 500, SOME = 12, MOST = 2000;
const tally = { questions: 0, refused: 0, numbers: 0, equal: 0, one: 0, more: 0, quick: 0 };

function question(data, d) {
  const q = built_in(data);
  q.view = d.next() < 0.6 ? 'road' : 'class';
  q.vehicle = Math.floor(d.next() * data.vehicles.length);
  q.tyre = d.next() < 0.5 ? String(data.vehicles[q.vehicle].tyre) : d.next() < 0.3 ? OWN : String(Math.floor(d.next() * data.tyres.length));
  q.marking = d.pick(MARKINGS);
  for (const key of Object.keys(SLIDERS)) {
    const s = slider_of(key, data.us);
    q[key] = s.least + s.step * Math.floor(d.next() * ((s.most - s.least) / s.step + 1));
  }
  if (d.next() < 0.6) Object.assign(q, { since: 0, 'c.pressure': 0 });
  q.people = Math.min(q.people, seats(data, q));
  for (const [key, list] of Object.entries(CHOICES)) q[key] = d.pick(list);
  if (d.next() < 0.7) Object.assign(q, { trailer: 'no', flat_tyres: '1' });
  return q;
}

function compare(a, j, data, what) {
  for (const [name, [want, digits]] of Object.entries(shown(j, data.us))) {
    const got = a.value[name], units = Math.round(Math.abs(got - want) * 10 ** digits);
    if (Number.isNaN(got) && Number.isNaN(want)) continue;
    tally.numbers++;
    if (units === 0) tally.equal++;
    else if (units === 1 && digits + 1 > 0 && !['go', 'limited_by', 'rule_holds', 'scrap', 'to_within', 'conditioned', 'passed', 'tested'].includes(name)) tally.one++;
    else { tally.more++; check(false, `${what}: ${name} is ${got}, the program says ${want}`); }
  }
  const same = (x, y) => x.join() === y.join();
  check(same(a.stops.map((s) => s.word), j.answer.stop_reasons), `${what}: reasons ${a.stops.map((s) => s.word)} against ${j.answer.stop_reasons}`);
  check(same(a.outside, j.quality.outside_checked_range), `${what}: outside ${a.outside}`);
  check(same(a.rules.map((r) => r.id), j.condition.rules.map((r) => r.id)), `${what}: rules ${a.rules.map((r) => r.id)}`);
}

function one(page, bare, q, i) {
  const { data, core } = page, lines = lines_of(data, q), words = words_of(data, q, lines_of(bare, q));
  const what = `question ${i} (${words.slice(2).join(' ')})`;
  const told = ask_program(program, words, FIRST), a = core.ask(lines, FIRST, data.us, false);
  tally.questions++;
  if (!check((a.status === 0) === (told.status === 0), `${what}: page status ${a.status}, program ${told.status} ${told.why || ''}`)) return;
  if (told.status !== 0) { tally.refused++; return; }
  compare(a, told.json, data, what);
  const quick = core.ask(lines, FIRST, data.us, true); // what is shown at once is what is shown in the end
  for (const [name, value] of Object.entries(quick.value))
    if (!Number.isNaN(value)) { tally.quick++; if (!Object.is(value, a.value[name]) ) check(false, `${what}: quick ${name} ${value}, whole ${a.value[name]}`); }
}

const pages = [metric, us].map(open_page);
for (const page of pages) {
  check(WebAssembly.Module.imports(page.module).length === 0, 'the module imports nothing');
  check(Buffer.byteLength(page.html) < 400e3, `${Buffer.byteLength(page.html)} bytes, under 400 000`);
  const empty = (list) => list.map((p) => ({ ...p, rows: [] }));
  const bare = { ...page.data, tyres: empty(page.data.tyres), vehicles: empty(page.data.vehicles) };
  const d = dice(20260101);
  for (let i = 0; i < Number(count) / 2; i++) one(page, bare, question(page.data, d), i);
}
check(tally.questions - tally.refused >= 0.6 * tally.questions, 'most questions can be answered');
check(tally.more === 0 && tally.numbers > 0, `${tally.more} numbers differ by more than one in the last digit`);
console.log(`${tally.questions} questions, ${tally.refused} refused by both; ${tally.numbers} numbers: ${tally.equal} equal, ${tally.one} by one in the last digit, ${tally.more} by more; ${tally.quick} quick numbers the same as whole ones`);
console.log(`page: ${Buffer.byteLength(pages[0].html)} bytes`);

// The larger sample, whose later points are rounded: how far from the program's.
let apart = 0, asked = 0;
for (let i = 0, d = dice(7); i < SOME; i++) {
  const page = pages[0], q = question(page.data, d);
  const bare = { ...page.data, tyres: page.data.tyres.map((t) => ({ ...t, rows: [] })), vehicles: page.data.vehicles.map((v) => ({ ...v, rows: [] })) };
  const told = ask_program(program, words_of(page.data, q, lines_of(bare, q)), MOST), a = page.core.ask(lines_of(page.data, q), MOST, false, false);
  if (told.status !== 0 || a.status !== 0) continue;
  asked++;
  apart = Math.max(apart, Math.abs(a.value.advised_distance - shown(told.json, false).advised_distance[0]));
  check(a.value.go === (told.json.answer.verdict === 'go' ? 1 : 0), `larger sample ${i}: verdict`);
}
// 0.2 km: rounding to 1/4096 of a standard deviation moves a tyre's range by well under 0.1 %.
check(asked > 0 && apart <= 0.2001, `larger sample: advised distances differ by ${apart.toFixed(1)} km`);
console.log(`${asked} questions to ${MOST} types: advised distances differ by ${apart.toFixed(1)} km at most`);
// The wall in section, which the page steps by itself for its picture, against the program's reference
// solver on the same tyre: the hottest place, and the outermost. 2 K, for first-order steps and 12
// cells against 24.
{
  const { data, core } = pages[0], q = { ...built_in(data), view: 'class', tyre: String(data.tyres.findIndex((t) => t.name === 'touring-16')) };
  core.ask(lines_of(data, q), FIRST, false, false);
  const rows = core.section(100e3);
  const wall = JSON.parse(spawnSync(program, ['show', 'wall', '--json', '--tyre', 'touring-16', '--load', '75%'], { encoding: 'utf8' }).stdout);
  let worst = 0;
  for (const row of [rows[10], rows[20], rows[40]]) {
    const minutes = 10 + row[0] / 60; // the program counts from the loss of pressure, 10 min before the warning
    const k = wall.time_min.findIndex((t) => t >= minutes), at = (i) => {
      const part = (minutes - wall.time_min[k - 1]) / (wall.time_min[k] - wall.time_min[k - 1]);
      return wall.temperature_c[k - 1][i] + part * (wall.temperature_c[k][i] - wall.temperature_c[k - 1][i]);
    };
    const all = wall.depth_mm.map((_, i) => at(i)), cells = row.slice(1, 13).map((t) => t - 273.15);
    const outer = wall.depth_mm.findIndex((d) => d >= 11.25);
    worst = Math.max(worst, Math.abs(Math.max(...cells) - Math.max(...all)), Math.abs(cells[11] - (all[outer] + all[outer + 1]) / 2));
  }
  check(worst <= 2, `the wall in section: ${worst.toFixed(2)} K apart`);
  console.log(`the wall in section: at most ${worst.toFixed(2)} K from the reference solver`);
}
sum('agreement');
