// SPDX-License-Identifier: GPL-3.0-or-later
// The answer at a glance, and what goes with it. The verdict is the core's word; here it gets a shape.
import { say, has } from './words.js';
import { element, field, put } from './controls.js';
import { STEPS } from './question.js';

const SVG = 'http://www.w3.org/2000/svg';
const SHAPES = { // told apart without colour
  go: 'M6 22 H66 V6 L114 50 L66 94 V78 H6 Z',                        // an arrow
  go_then_stop: 'M4 26 H46 V8 L88 50 L46 92 V74 H4 Z M96 8 H116 V92 H96 Z', // an arrow up to a bar
  stop: 'M35 4 H85 L116 35 V65 L85 96 H35 L4 65 V35 Z',              // an octagon
  none: 'M6 8 H96 L114 26 V92 H6 Z',                                 // a square with a cut corner
  ask: 'M60 6 A44 44 0 1 1 59.9 6 Z',                                // a ring: nothing is said yet
  wait: 'M60 6 A44 44 0 1 1 59.9 6 Z',                               // the same: it is being computed
};
const MIDDLE = { go: '52', go_then_stop: '40' };

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
    show(which, step) {
      path.setAttribute('d', SHAPES[which]);
      word.setAttribute('x', MIDDLE[which] || '60');
      word.setAttribute('class', which);
      put(word, which === 'none' ? '?' : which === 'ask' ? String(STEPS.indexOf(step) + 1) : which === 'wait' ? '…' : which === 'stop' ? say('stop') : say('go'));
      svg.setAttribute('data-shape', which);
    },
  };
}

export const which_of = (a, state) => (state.bad_link ? 'none' : state.step ? 'ask' : state.taking_in ? 'wait' : !a || a.status !== 0 ? 'none' : a.verdict);
const spoken = (key, text) => (has(key) ? say(key) : text);
const label = (key) => (has(key) ? say(key) : key.replace(/_/g, ' '));

export const reason_none = (a) => say('none.line', { why: a ? `${a.key ? `${label(a.key)}: ` : ''}${spoken(`status.${a.why}`, a.why)}${a.allowed ? ` (${a.allowed.replace(/_/g, ' ')})` : ''}` : '' });

const line_of = (which, a, state) => ({ go: '', go_then_stop: () => say('go_then_stop.line'), stop: () => say('stop.line'),
  ask: () => say('ask.line', { step: say(`step.${state.step}`) }), wait: () => say('wait.line'), none: () => (state.bad_link ? say('bad_link') : reason_none(a)) })[which];

const destination = (a) => say(a.verdict === 'stop' ? 'to.stop' : a.verdict === 'go_then_stop' ? 'to.beyond' : a.value.chance_of_failing > 0 ? 'to.within' : 'to.none_fails',
  { counted: a.value.counted, to: field(a, 'to'), way: field(a, 'advised_distance'), chance: field(a, 'chance_of_failing') });

// Upon how many types it rests, and whether that will do.
const rest_of = (a, rough) => (rough ? say('rough', { members: a.members }) : a.value.too_few === 1 ? say('too_few', { counted: a.value.counted }) : say('sure', { members: a.members }));

// The card at the top: shape, word, distance, speed, time, destination.
export function glance() {
  const s = sign();
  const word = element('h2', { class: 'verdict' });
  const example = element('p', { class: 'example', 'data-answer': 'example' });
  const figures = element('dl', { class: 'figures' });
  const numbers = ['way', 'pace', 'time'].map((key) => {
    const value = element('dd', { 'data-answer': key });
    figures.append(element('div', { class: key }, element('dt', {}, say(`go.${key}`)), value));
    return value;
  });
  const [line, why, to, rests] = ['line', 'why', 'to', 'rests'].map((key) => element('p', { class: key, 'data-answer': key }));
  const spoke = element('p', { class: 'spoken', role: 'status', 'aria-live': 'polite' });
  const box = element('section', { class: 'glance', 'data-verdict': '', tabIndex: -1 }, s.svg, word, element('div', { class: 'glance-text' }, example, line, figures, why, to, rests), spoke);
  let timer = 0;
  // state: step to be confirmed, bad_link, rough (a larger sample is on its way), example (a key of the words).
  function show(a, state) {
    const which = which_of(a, state), goes = which.startsWith('go'), answered = goes || which === 'stop';
    const text = line_of(which, a, state);
    box.setAttribute('data-verdict', which);
    s.show(which, state.step);
    put(word, say(which));
    example.hidden = !(answered && state.example);
    if (!example.hidden) put(example, say(state.example));
    figures.hidden = !goes;
    if (goes) ['advised_distance', 'advised_speed', 'advised_time'].forEach((name, i) => put(numbers[i], field(a, name)));
    line.hidden = which === 'go';
    put(line, text ? text() : '');
    why.hidden = which !== 'stop';
    if (which === 'stop') put(why, a.stops.length ? spoken(`stop.${a.stops[0].word}`, a.stops[0].text) : '');
    to.hidden = !answered || Number.isNaN(a.value.to);
    if (!to.hidden) put(to, destination(a));
    rests.hidden = !answered;
    box.classList.toggle('rough', Boolean(answered && state.rough));
    if (answered) put(rests, rest_of(a, state.rough));
    clearTimeout(timer); // read out when it is final and has come to rest, not at every step of a slider
    if (!(answered && state.rough))
      timer = setTimeout(() => put(spoke, say('spoken', { verdict: say(which), line: `${goes
        ? say('go.line', { way: field(a, 'advised_distance'), pace: field(a, 'advised_speed') }) : ''} ${line.textContent} ${why.hidden ? '' : why.textContent}`.trim() })), 700);
  }
  return { box, show, focus: () => box.focus() };
}

// ---- reasons, offers, afterwards -------------------------------------------------------------

// Each text is words, or the parts of a line.
function list_of(title, key) {
  const ul = element('ul', { 'data-answer': key });
  return { box: element('section', { class: key }, element('h3', {}, say(title)), ul),
    show(texts) {
      const now = JSON.stringify(texts.map((t) => (typeof t === 'string' ? t : t.textContent)));
      if (ul.dataset.now === now) return;
      ul.dataset.now = now;
      ul.replaceChildren(...texts.map((t) => element('li', {}, t)));
    } };
}

const FLAT = { metric: '70\u00a0kPa', us: '10\u00a0psi' };

function reasons(a) {
  const out = a.stops.map((s) => `${spoken(`stop.${s.word}`, s.text)} ${say('remedy', { remedy: spoken(`remedy.${s.word}`, s.remedy) })}`);
  if (a.condemned) out.push(a.condemned);
  if (a.against) out.push(say('decides.against', { item: a.against }));
  return out.concat(a.outside.map((key) => say('decides.outside', { key: label(key) })));
}

const evidence_of = (v) => say(v.evidence_items > 1 ? 'numbers.items' : 'numbers.item', { items: v.evidence_items, worth: v.evidence_worth });

function deciding(a) {
  const v = a.value, out = reasons(a), goes = a.verdict !== 'stop';
  if (goes) out.push(say(`decides.${a.limit}`, { cap: field(a, 'cap'), p5: field(a, 'advised_p5'), end: say(`end.${a.end}`) }));
  if (v.run_seen + v.run_unseen > 0)
    out.push(say('decides.run', { unseen: field(a, 'run_unseen'), seen: field(a, 'run_seen') }));
  if (v.evidence_items > 0 && !a.against) out.push(`${say('numbers.evidence')}: ${evidence_of(v)}`);
  if (v.stops_left_out) out.push(say('decides.stops'));
  if (v.built_by_word) out.push(say('decides.word'));
  if (a.skipped) out.push(say('decides.skipped', { words: a.skipped }));
  if (v.flat_counts) out.push(say('decides.flat', { flat: FLAT[a.us ? 'us' : 'metric'] }));
  if (!v.all_stated && v.tested > 0)
    out.push(say('decides.unvouched') + (goes && v.if_vouched > v.advised_distance ? ` ${say('decides.vouched', { way: field(a, 'if_vouched') })}` : ''));
  return out;
}

// What nobody said and the answer takes all the same.
function taken(a) {
  const out = a.assumed.map((key) => (has(`taken.${key}`) ? say(`taken.${key}`, { value: field(a, key) }) : label(key)));
  if (a.value.wheel_assumed) out.push(say('taken.wheel'));
  if (a.value.unseen_assumed) out.push(say('taken.unseen', { way: field(a, 'run_unseen') }));
  return out;
}

// A number to call, as far as there is one in the text of the profile.
function call_of(text) {
  const [number] = text.match(/\+?[0-9][0-9 ()\/.-]*[0-9]/) || [''], digits = number.replace(/[^0-9+]/g, '');
  if (!text) return say('now.call.none');
  const line = element('span', {}, `${say('now.call')} `);
  line.append(digits.length >= 3 && digits.length <= 16 ? element('a', { href: `tel:${digits}`, 'data-call': digits }, text) : text);
  return line;
}

const now_of = (a, names) => [say('now.1'), say('now.2'), say('now.3'), call_of(names.number),
  say('now.tell', { wheel: names.wheel || say('now.wheel'), marking: a.marking, vehicle: names.vehicle || say('now.vehicle') })];

const offers = (a) => {
  const out = [];
  for (let i = 0; i < Math.min(a.value.more_count, 2); i++)
    out.push(say(a.value[`more${i}_slower`] ? 'more.slower' : 'more.lighter',
      { speed: field(a, `more${i}_speed`), load: field(a, `more${i}_load`), way: field(a, `more${i}_distance`) }));
  return out.length ? out : [say('more.none')];
};

export const after_of = (a) => [say(a.value.scrap ? 'after.scrap' : 'after.inspect'),
  ...(a.rules.some((r) => r.id.startsWith('model_')) ? [say('after.drive', { life: field(a, 'drive_life_p95'), heat: field(a, 'drive_peak_p95') })] : []),
  ...a.rules.map((r) => `${spoken(`rule.${r.id}`, r.text)} ${say('after.source', { source: r.source })}`)];

// The verdict and the rule that weighs most; the other rules that fired fold away.
function after_part() {
  const first = list_of('after', 'after'), rest = list_of('after.rest', 'after-rest');
  const fold = element('details', { class: 'rest' }, element('summary', {}, say('after.rest')), ...rest.box.querySelectorAll('ul'));
  first.box.append(fold);
  return { box: first.box, show(texts) { first.show(texts.slice(0, 3)); rest.show(texts.slice(3)); fold.hidden = texts.length < 4; } };
}

export function details() {
  const decides = list_of('decides', 'decides'), more = list_of('more', 'more'), after = after_part(), takes = list_of('taken', 'taken');
  const now = list_of('do.now', 'now'), watch = list_of('watch', 'watch'), cautions = list_of('cautions', 'cautions');
  const first = element('div', { class: 'tell first-things' }, now.box, watch.box, takes.box);
  watch.show([1, 2, 3, 4].map((i) => say(`watch.${i}`)));
  cautions.show([1, 2, 3].map((i) => say(`caution.${i}`)));
  function show(a, names) {
    const good = Boolean(a && a.status === 0), stop = good && a.verdict === 'stop';
    for (const part of [decides, after]) part.box.hidden = !good;
    now.box.hidden = !stop; // under STOP nothing is said of how to drive on
    watch.box.hidden = more.box.hidden = !good || stop;
    takes.box.hidden = !good || taken(a).length === 0;
    if (!good) return;
    takes.show(taken(a));
    decides.show(deciding(a));
    if (stop) now.show(now_of(a, names));
    for (const part of [more, after]) part.box.classList.toggle('late', a.quick);
    if (!a.quick) { if (!stop) more.show(offers(a)); after.show(after_of(a)); }
  }
  return { first, boxes: [decides, more, after].map((p) => p.box), cautions: cautions.box, show };
}

// ---- the table of numbers --------------------------------------------------------------------

const cut = (a, prefix, censored) => ['p5', 'p50', 'p95'].map((p) => {
  const way = field(a, `${prefix}_${p}`);
  return censored && a.value[`more_than_${p}`] ? say('numbers.more_than', { way }) : way;
}).join(' · ');

export function number_rows(a) {
  const v = a.value, rule = say(v.rule_holds ? 'numbers.holds' : 'numbers.fails');
  const rows = v.rim_at_start || a.against ? [] : [[say('numbers.range', { speed: field(a, 'speed') }), cut(a, 'range', true)]];
  if (v.evidence_items > 0 && !v.rim_at_start && !a.against)
    rows.push([say('numbers.all'), cut(a, 'all', false)], [say('numbers.evidence'), evidence_of(v)]);
  rows.push([say('numbers.load'), `${field(a, 'load')}, ${field(a, 'load_share')} ${say('numbers.share')}`],
    [say('numbers.now'), field(a, 'now_p50')],
    [say('numbers.peak'), `${field(a, 'peak_p50')} · ${field(a, 'peak_p95')}`], [say('numbers.limit'), field(a, 'limit')],
    [say('numbers.life'), `${field(a, 'life_now_p50')} · ${field(a, 'life_at_advised_p50')}`],
    [say('numbers.drive'), field(a, 'drive_life_p95')],
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
