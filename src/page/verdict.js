// SPDX-License-Identifier: GPL-3.0-or-later
// The answer at a glance, and what goes with it. GO or STOP is the core's word; here it gets a shape.
import { say, has } from './words.js';
import { element, field, put } from './controls.js';

const SVG = 'http://www.w3.org/2000/svg';
const SHAPES = { // told apart without colour: an arrow, an octagon, a square with a cut corner
  go: 'M6 22 H66 V6 L114 50 L66 94 V78 H6 Z',
  stop: 'M35 4 H85 L116 35 V65 L85 96 H35 L4 65 V35 Z',
  none: 'M6 8 H96 L114 26 V92 H6 Z',
};

export function sign() {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('viewBox', '0 0 120 100');
  svg.setAttribute('class', 'sign');
  svg.setAttribute('aria-hidden', 'true');
  const path = svg.appendChild(document.createElementNS(SVG, 'path'));
  const word = svg.appendChild(document.createElementNS(SVG, 'text'));
  word.setAttribute('y', '50');
  word.setAttribute('text-anchor', 'middle');
  word.setAttribute('dominant-baseline', 'central');
  return {
    svg,
    show(which) {
      path.setAttribute('d', SHAPES[which]);
      word.setAttribute('x', which === 'go' ? '52' : '60');
      word.setAttribute('class', which);
      put(word, which === 'none' ? '?' : say(which));
      svg.setAttribute('data-shape', which);
    },
  };
}

export const which_of = (a) => (!a || a.status !== 0 ? 'none' : a.value.go === 1 ? 'go' : 'stop');
const spoken = (key, text) => (has(key) ? say(key) : text);

export const reason_none = (a) => say('none.line', { why: a ? `${a.key ? `${a.key}: ` : ''}${spoken(`status.${a.why}`, a.why)}${a.allowed ? ` (${a.allowed})` : ''}` : '' });

// The card at the top: shape, word, distance, speed, time, destination.
export function glance() {
  const s = sign();
  const word = element('h2', { class: 'verdict' });
  const figures = element('dl', { class: 'figures' });
  const numbers = ['way', 'pace', 'time'].map((key) => {
    const value = element('dd', { 'data-answer': key });
    figures.append(element('div', { class: key }, element('dt', {}, say(`go.${key}`)), value));
    return value;
  });
  const line = element('p', { class: 'line', 'data-answer': 'line' });
  const why = element('p', { class: 'why', 'data-answer': 'why' });
  const to = element('p', { class: 'to', 'data-answer': 'to' });
  const spoke = element('p', { class: 'spoken', role: 'status', 'aria-live': 'polite' });
  const box = element('section', { class: 'glance', 'data-verdict': '' }, s.svg, word, figures, line, why, to, spoke);
  let timer = 0;
  function show(a) {
    const which = which_of(a);
    box.setAttribute('data-verdict', which);
    s.show(which);
    put(word, say(which));
    figures.hidden = which !== 'go';
    line.hidden = which === 'go';
    if (which === 'go')
      ['advised_distance', 'advised_speed', 'advised_time'].forEach((name, i) => put(numbers[i], field(a, name)));
    put(line, which === 'stop' ? say('stop.line') : which === 'none' ? reason_none(a) : '');
    why.hidden = which !== 'stop';
    if (which === 'stop') put(why, a.stops.length ? spoken(`stop.${a.stops[0].word}`, a.stops[0].text) : '');
    const asked = which !== 'none' && !Number.isNaN(a.value.to);
    to.hidden = !asked;
    if (asked)
      put(to, say(which === 'stop' ? 'to.stop' : a.value.to_within === 1 ? 'to.within' : 'to.beyond', { to: field(a, 'to'), chance: field(a, 'chance_of_failing') }));
    clearTimeout(timer); // read out when it has come to rest, not at every step of a slider
    timer = setTimeout(() => put(spoke, say('spoken', { verdict: say(which), line: which === 'go'
      ? say('go.line', { way: field(a, 'advised_distance'), pace: field(a, 'advised_speed') }) : `${line.textContent} ${why.hidden ? '' : why.textContent}` })), 700);
  }
  return { box, show };
}

// ---- reasons, offers, afterwards -------------------------------------------------------------

function list_of(title, key) {
  const ul = element('ul', { 'data-answer': key });
  return { box: element('section', { class: key }, element('h3', {}, say(title)), ul),
    show(texts) { if (ul.dataset.now !== texts.join('\n')) { ul.dataset.now = texts.join('\n'); ul.replaceChildren(...texts.map((t) => element('li', {}, t))); } } };
}

const FLAT = { metric: '70\u00a0kPa', us: '10\u00a0psi' };
const LIMITS = ['range', 'rule', 'maker', 'stop'];

function deciding(a) {
  const v = a.value, out = a.stops.map((s) => spoken(`stop.${s.word}`, s.text));
  out.push(...a.outside.map((key) => say('decides.outside', { key: has(key) ? say(key) : key.replace(/_/g, ' ') })));
  const limit = LIMITS[v.limited_by];
  if (v.go === 1 && limit === 'range') out.push(say('decides.range', { p5: field(a, 'advised_p5'), end: say(`end.${a.end}`) }));
  else if (v.go === 1) out.push(say(`decides.${limit}`, { cap: field(a, 'cap') }));
  if (v.run_seen + v.run_unseen > 0)
    out.push(say('decides.run', { unseen: field(a, 'run_unseen'), seen: field(a, 'run_seen') }));
  if (v.flat_counts) out.push(say('decides.flat', { flat: FLAT[a.us ? 'us' : 'metric'] }));
  if (!v.conditioned && v.tested > 0) out.push(say('decides.unvouched', { way: field(a, 'if_vouched') }));
  return out;
}

const offers = (a) => {
  const out = [];
  for (let i = 0; i < Math.min(a.value.more_count, 2); i++)
    out.push(say(a.value[`more${i}_slower`] ? 'more.slower' : 'more.lighter',
      { speed: field(a, `more${i}_speed`), load: field(a, `more${i}_load`), way: field(a, `more${i}_distance`) }));
  return out.length ? out : [say('more.none')];
};

export const after_of = (a) => [say(a.value.scrap ? 'after.scrap' : 'after.inspect'),
  ...a.rules.map((r) => `${spoken(`rule.${r.id}`, r.text)} ${say('after.source', { source: r.source })}`)];

// The verdict and the rule that weighs most; the other rules that fired fold away.
function after_part() {
  const first = list_of('after', 'after'), rest = list_of('after.rest', 'after-rest');
  const fold = element('details', { class: 'rest' }, element('summary', {}, say('after.rest')), ...rest.box.querySelectorAll('ul'));
  first.box.append(fold);
  return { box: first.box, show(texts) { first.show(texts.slice(0, 2)); rest.show(texts.slice(2)); fold.hidden = texts.length < 3; } };
}

export function details() {
  const decides = list_of('decides', 'decides'), more = list_of('more', 'more'), after = after_part();
  const watch = list_of('watch', 'watch'), cautions = list_of('cautions', 'cautions');
  watch.show([1, 2, 3, 4].map((i) => say(`watch.${i}`)));
  cautions.show([1, 2, 3].map((i) => say(`caution.${i}`)));
  const all = [decides, watch, more, after];
  function show(a) {
    const good = a && a.status === 0;
    for (const part of [decides, more, after]) part.box.hidden = !good;
    if (!good) return;
    decides.show(deciding(a));
    for (const part of [more, after]) part.box.classList.toggle('late', a.quick);
    if (!a.quick) { more.show(offers(a)); after.show(after_of(a)); }
  }
  return { boxes: all.map((p) => p.box), cautions: cautions.box, show };
}

// ---- the table of numbers --------------------------------------------------------------------

const cut = (a, prefix, censored) => ['p5', 'p50', 'p95'].map((p) => {
  const way = field(a, `${prefix}_${p}`);
  return censored && a.value[`more_than_${p}`] ? say('numbers.more_than', { way }) : way;
}).join(' · ');

export function number_rows(a) {
  const v = a.value, rule = say(v.rule_holds ? 'numbers.holds' : 'numbers.fails');
  const rows = v.rim_at_start ? [] : [
    [say('numbers.range', { speed: field(a, 'speed') }), cut(a, 'range', true)],
    [say('numbers.all'), cut(a, 'all', false)]];
  rows.push([say('numbers.load'), `${field(a, 'load')}, ${field(a, 'load_share')} ${say('numbers.share')}`],
    [say('numbers.now'), field(a, 'now_p50')],
    [say('numbers.peak'), `${field(a, 'peak_p50')} · ${field(a, 'peak_p95')}`], [say('numbers.limit'), field(a, 'limit')],
    [say('numbers.life'), `${field(a, 'life_now_p50')} · ${field(a, 'life_at_advised_p50')}`],
    [say('numbers.rule', { way: field(a, 'rule_distance'), pace: field(a, 'rule_speed') }), `${field(a, 'share_of_tyres')}: ${rule}`]);
  if (v.tested > 0) rows.push([say('numbers.passed'), say('numbers.of', { passed: v.passed, tested: v.tested })]);
  return rows;
}

export function number_table() {
  const table = element('table'), note = element('p', { class: 'note' });
  const box = element('details', { class: 'numbers' }, element('summary', {}, say('numbers')), table, note);
  return { box, show(a) {
    box.classList.toggle('late', Boolean(a && a.quick));
    if (!a || a.status !== 0 || a.quick) return;
    table.replaceChildren(...number_rows(a).map(([name, value]) => element('tr', {}, element('th', { scope: 'row' }, name), element('td', {}, value))));
    put(note, say('numbers.types', { members: a.members }));
  } };
}
