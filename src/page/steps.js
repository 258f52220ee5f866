// SPDX-License-Identifier: GPL-3.0-or-later
// The three things that are confirmed by a tap before there is an answer: which car, who is in it, and
// when the warning came. One stands open at a time; what is confirmed is shown and can be changed.
import { say } from './words.js';
import { element, press, put, select, wheels } from './controls.js';
import { MARKING_MOST, OWN, FITTED, OTHER, BUILT, STEPS, confirmed, next_step, choose_car, vehicle_of, tyre_place, two_tyres, seats } from './question.js';

const SINCE = [1, 5, 10, 20, 60]; // minutes at most; the last one stands for longer and for not known

const tap = (text, act, more = {}) => {
  const b = element('button', { type: 'button', ...more }, text);
  b.addEventListener('click', act);
  return b;
};

// Another car or another tyre: nothing of it counts before it is confirmed as a whole.
function other_car(data, done) {
  const draft = { vehicle: OTHER, tyre: OWN, marking: '', built: 'unknown' };
  const text = element('input', { type: 'text', id: 'own', 'data-key': 'marking', maxlength: String(MARKING_MOST), autocomplete: 'off', spellcheck: 'false', 'aria-describedby': 'own-hint' });
  const own = element('div', { class: 'own' }, element('label', { for: 'own' }, say('marking')), text, element('p', { class: 'hint', id: 'own-hint' }, say('marking.hint')));
  const built = select('built', BUILT.map((v) => [v, say(`built.${v}`)]), () => draft.built, (v) => { draft.built = v; });
  const need = element('p', { class: 'hint', role: 'status' });
  const vehicle = select('vehicle', [[String(OTHER), say('vehicle.other')], ...data.vehicles.map((v, i) => [String(i), v.title])],
    () => String(draft.vehicle), (v) => { draft.vehicle = Number(v); });
  const tyre = select('tyre', [[OWN, say('tyre.own')], ...data.tyres.map((t, i) => [String(i), t.title])], () => draft.tyre, (v) => { draft.tyre = v; show(); });
  function show() { own.hidden = built.box.hidden = draft.tyre !== OWN; }
  text.addEventListener('input', () => { draft.marking = text.value.replace(/[^\x20-\x7e]/g, ''); });
  const use = press('car.use', () => {
    const typed = draft.tyre === OWN;
    if (typed && draft.marking.trim() === '') { put(need, say('marking.need')); text.focus(); return; }
    done(draft.vehicle, draft.tyre, typed ? draft.marking : '', typed ? draft.built : 'unknown');
  });
  show();
  return element('details', { class: 'other' }, element('summary', {}, say('car.other')), vehicle.box, tyre.box, own, built.box, need, use);
}

function car_step(data, q, chosen) {
  const choose = (...car) => { choose_car(q(), ...car); chosen(); };
  const cars = data.vehicles.map((v, i) => tap(v.title, () => choose(i, FITTED), { 'data-car': v.name }));
  const wheel = wheels(q, chosen);
  const list = element('div', { class: 'taps' }, ...cars), other = other_car(data, choose);
  return { body: element('div', { class: 'part-body' }, list, other, wheel.box), show() {
    const axle = two_tyres(data, q()); // which of the two tyres it is has to be known
    list.hidden = other.hidden = axle;
    wheel.box.hidden = !axle;
    wheel.show();
  }, said() {
    const v = vehicle_of(data, q()), place = tyre_place(data, q());
    const tyre = place === null ? `${q().marking} (${say(`built.${q().built}`)})` : data.tyres[place].title;
    return `${v ? v.title : say('vehicle.other')} · ${tyre}`;
  } };
}

function load_step(data, q, chosen) {
  const body = element('div', { class: 'part-body' }), list = element('div', { class: 'taps numbers-taps' });
  const set = (people) => { q().people = people; if (people === 0) q().luggage = null; chosen(); };
  const unknown = tap('', () => set(0), { 'data-people': '0' });
  let shown = -1;
  body.append(list, unknown);
  return { body, show() {
    const n = seats(data, q());
    put(unknown, say(n > 0 ? 'people.unknown' : 'people.other'));
    if (n === shown) return;
    shown = n;
    list.replaceChildren(...Array.from({ length: n }, (_, i) => tap(String(i + 1), () => set(i + 1), { 'data-people': String(i + 1), 'aria-label': say(i ? 'people.many' : 'people.one', { n: i + 1 }) })));
  }, said: () => say(q().people > 1 ? 'people.many' : q().people === 1 ? 'people.one' : seats(data, q()) > 0 ? 'people.unknown' : 'people.other', { n: q().people }) };
}

function since_step(data, q, chosen) {
  const taps = SINCE.map((minutes) => tap(say(`since.${minutes}`), () => { q().since = minutes; chosen(); }, { 'data-since': String(minutes) }));
  const body = element('div', { class: 'part-body' }, element('p', { class: 'hint' }, say('since.hint')), element('div', { class: 'taps' }, ...taps));
  return { body, show() {}, said: () => (SINCE.includes(q().since) ? say(`since.${q().since}`) : say('since.minutes', { n: q().since })) };
}

export function steps(data, q, chosen) {
  const part = { car: car_step(data, q, chosen), load: load_step(data, q, chosen), since: since_step(data, q, chosen) };
  const forget = { car: () => choose_car(q(), null, null), load: () => { q().people = q().luggage = null; }, since: () => { q().since = null; } };
  const rows = STEPS.map((step, i) => {
    const head = element('h3', { tabIndex: -1 }, `${i + 1} ${say(`step.${step}`)}`), said = element('p', { class: 'said' });
    const change = press('change', () => { forget[step](); chosen(); }, { 'aria-label': `${say('change')}: ${say(`step.${step}`)}` });
    const box = element('div', { class: 'part', 'data-part': step }, head, said, change, part[step].body);
    return { step, box, head, said, change };
  });
  const now = () => next_step(data, q());
  function show() {
    for (const { step, box, said, change } of rows) {
      const good = confirmed[step](data, q());
      box.setAttribute('data-state', good ? 'said' : now() === step ? 'open' : 'later');
      said.hidden = change.hidden = !good;
      part[step].body.hidden = good || now() !== step;
      if (good) put(said, part[step].said());
      part[step].show();
    }
  }
  // The heading of what is to be done next; null when nothing is.
  const focus = () => { const row = rows.find(({ step }) => step === now()); return row ? row.head : null; };
  return { box: element('div', { class: 'parts' }, ...rows.map((r) => r.box)), show, focus };
}
