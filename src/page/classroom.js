// SPDX-License-Identifier: GPL-3.0-or-later
// The classroom view: four sliders, the pictures that move with them, two settings side by side and
// the lessons.
import { say } from './words.js';
import { element, slider, select, press, put, field, with_unit } from './controls.js';
import { glance } from './verdict.js';
import { to_row, class_lines, SLIDERS } from './question.js';
import { wall_picture, wall_words, band_picture, life_picture, map_picture } from './pictures.js';
import { lessons_panel } from './lessons.js';

const KEYS = ['c.speed', 'c.load', 'c.ambient', 'c.pressure'];
const PLAY_MS = 120;

function figure(key, places = {}) {
  const hold = element('div', { class: 'hold' }), caption = element('figcaption', {}, say(`${key}.text`, places));
  const box = element('figure', { class: key }, element('h3', {}, say(key)), hold, caption);
  return { box, hold, caption };
}

// The drive played along the wall: a slider, and a button that moves it.
function wall_part() {
  const f = figure('wall'), draw = wall_picture(f.hold);
  let rows = [], a = null, timer = 0, metres = 0;
  const range = element('input', { type: 'range', min: '0', max: '40', value: '40', 'data-key': 'along', 'aria-label': say('wall.along') });
  function show() {
    const row = rows[Math.min(Number(range.value), rows.length - 1)];
    if (!row) return;
    const way = (metres * Number(range.value)) / 40 / (a.us ? 1609.344 : 1000);
    draw(row, a.us);
    const text = with_unit(way.toFixed(0), 'WAY', a.us);
    range.setAttribute('aria-valuetext', text);
    put(f.caption, wall_words(row, text, a.us));
  }
  const play = press('wall.play', () => {
    const on = timer === 0;
    clearInterval(timer);
    timer = on ? setInterval(next, PLAY_MS) : 0;
    if (on && Number(range.value) >= 40) range.value = '0';
    put(play, say(on ? 'wall.pause' : 'wall.play'));
  });
  function next() {
    if (Number(range.value) >= 40) { play.click(); return; }
    range.value = String(Number(range.value) + 1);
    show();
  }
  range.addEventListener('input', show);
  f.hold.after(element('div', { class: 'along' }, play, range));
  return { box: f.box, section(data, answer, distance) { rows = data; a = answer; metres = distance; show(); } };
}

function compare_part() {
  const table = element('table', { class: 'compare' });
  const rows = [['row.speed', (k) => k.text['c.speed']], ['row.load', (k) => k.text['c.load']], ['row.ambient', (k) => k.text['c.ambient']],
    ['row.pressure', (k) => k.text['c.pressure']], ['row.answer', (k) => say(k.a.verdict)],
    ['row.way', (k) => field(k.a, 'advised_distance')], ['row.p50', (k) => field(k.a, 'range_p50')], ['row.rule', (k) => field(k.a, 'share_of_tyres')]];
  const head = (text) => element('th', { scope: 'col' }, text);
  return { box: table, show(now, kept) {
    table.hidden = !kept;
    if (kept)
      table.replaceChildren(element('caption', {}, say('compare')), element('tr', {}, element('td', {}), head(say('now')), head(say('kept'))),
        ...rows.map(([key, of]) => element('tr', {}, element('th', { scope: 'row' }, say(key)), element('td', {}, of(now)), element('td', {}, of(kept)))));
  } };
}

export function classroom(data, q, moved, ask_now, distance) {
  const top = glance(), wall = wall_part(), compare = compare_part();
  const band = figure('band', { p5: '…', p50: '…', p95: '…', rule: '…' }), map = figure('map', { unit: '', rule: '' }), life = figure('life');
  const draw_band = band_picture(band.hold), draw_life = life_picture(life.hold), draw_map = map_picture(map.hold);
  let answer = null, way = null, kept = null, extra = [];
  const changed = () => { extra = []; moved(); };
  const sliders = KEYS.map((key) => slider(key, q, data.us, changed));
  const tyre = select('tyre', data.tyres.map((t, i) => [String(i), t.title]), () => q()['c.tyre'], (v) => { q()['c.tyre'] = v; changed(); });
  const text = () => Object.fromEntries(KEYS.map((key) => [key, with_unit(String(q()[key]), SLIDERS[key].kind, data.us)]));
  const place = () => [to_row('SPEED', data.us, q()['c.speed']), q()['c.load'] / 100];
  const keep = press('keep', () => {
    kept = kept ? null : { a: answer, way, place: place(), text: text() };
    put(keep, say(kept ? 'drop' : 'keep'));
    draw();
  });
  function draw() {
    if (!answer || answer.status !== 0) return;
    const at = (name) => field(answer, name);
    draw_band(answer, kept && kept.a);
    put(band.caption, say('band.text', { p5: at('range_p5'), p50: at('range_p50'), p95: at('range_p95'), rule: at('rule_distance') }) +
      (answer.value.taken_as_empty === 1 ? ` ${say('band.empty')}` : ''));
    draw_map.point(...place(), kept && kept.place);
    compare.show({ a: answer, text: text() }, kept);
    if (way) draw_life(way, kept && kept.way, answer);
  }
  // The lessons' sliders are written in metric units.
  const shown = (key, metric) => { const s = SLIDERS[key][data.us ? 'us' : 'metric'], one = to_row(SLIDERS[key].kind, data.us, 1) - to_row(SLIDERS[key].kind, data.us, 0);
    const row = SLIDERS[key].kind === 'SHARE' ? metric / 100 : metric;
    return Math.min(s[1], Math.max(s[0], Math.round((row - to_row(SLIDERS[key].kind, data.us, 0)) / one / s[2]) * s[2])); };
  const with_change = (change) => Object.fromEntries(Object.entries(change).map(([key, value]) => [key, shown(key, value)]));
  const choose = (lesson) => {
    const vehicle = data.vehicles.findIndex((v) => v.name === lesson.vehicle);
    if (vehicle >= 0) q()['c.tyre'] = String(data.vehicles[vehicle].tyre);
    Object.assign(q(), with_change(lesson.set));
    show();
    extra = lesson.more || [];
    moved();
  };
  const panel = lessons_panel(choose, (lesson, change) => ask_now(class_lines(data, { ...q(), ...with_change({ ...lesson.set, ...change }) }, lesson.more)));
  const show = () => { sliders.forEach((s) => s.show()); tyre.show(); };
  const full = press('full', () => (document.fullscreenElement ? document.exitFullscreen() : document.documentElement.requestFullscreen && document.documentElement.requestFullscreen()));
  const set = element('section', { class: 'ask' }, element('h2', {}, say('set')), tyre.box, ...sliders.map((s) => s.box), element('div', { class: 'buttons' }, keep, full));
  const box = element('div', { class: 'class' }, top.box, set, compare.box, element('div', { class: 'figures-grid' }, band.box, wall.box, map.box, life.box), panel);
  return { box, show, extra: () => extra,
    answer(a, state) {
      answer = a;
      top.show(a, { ...state, example: 'example_class' });
      draw();
      if (a && a.status === 0) put(map.caption, say('map.text', { unit: data.us ? 'mi' : 'km', rule: field(a, 'rule_distance') }));
    },
    part(name, got) {
      if (name === 'way') { way = got; draw(); }
      if (name === 'section') wall.section(got, answer, distance());
      if (name === 'map' && answer) { draw_map.draw(got, answer); map.box.classList.remove('late'); }
      if (name === 'map.late') map.box.classList.add('late');
    } };
}
