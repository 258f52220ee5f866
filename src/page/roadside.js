// SPDX-License-Identifier: GPL-3.0-or-later
// The roadside view: three taps to an answer, what more can be said, and the answer.
import { say } from './words.js';
import { element, press, slider, choice, wheels, put } from './controls.js';
import { glance, details, number_table } from './verdict.js';
import { vehicle_of, tyre_place } from './question.js';
import { steps } from './steps.js';

const SLIDERS = ['luggage', 'ambient', 'speed', 'to'];

// Words of the profiles that the answer rests on, for those who are called and for EXAMPLE.
function names_of(data, q) {
  const vehicle = vehicle_of(data, q), place = tyre_place(data, q), tyre = place === null ? null : data.tyres[place];
  return { vehicle: vehicle ? vehicle.title : '', wheel: q.wheel === 'unknown' ? '' : say(`wheel.${q.wheel}`), number: (vehicle && vehicle.recovery_number) || '',
    invented: Boolean((vehicle && vehicle.invented) || (tyre && tyre.invented)) };
}

export function roadside(data, q, moved, anew) {
  const top = glance(), more = details(), table = number_table();
  const changed = () => { show(); moved(); };
  // What was tapped is gone: the next thing to do gets the focus, and at the end the answer.
  const chosen = () => { changed(); (three.focus() || top).focus(); };
  const three = steps(data, q, chosen);
  const wheel = wheels(q, changed);
  const sliders = Object.fromEntries(SLIDERS.map((key) => [key, slider(key, q, data.us, moved)]));
  const known = ['age', 'ran_flat', 'repaired', 'trailer', 'flat_tyres'].map((key) => choice(key, q, moved));
  const parts = [three, wheel, ...Object.values(sliders), ...known];
  const broken = element('div', { class: 'broken' }, press('anew', anew));
  const fold = element('details', { class: 'known' }, element('summary', {}, say('known')), element('p', { class: 'hint' }, say('known.hint')), ...known.map((k) => k.box));
  const rest = element('div', { class: 'more-said' }, element('h3', {}, say('question.more')), wheel.box, ...Object.values(sliders).map((s) => s.box), fold);
  const ask = element('section', { class: 'ask' }, element('h2', {}, say('question')), three.box, rest);
  const tell = element('div', { class: 'tell' }, ...more.boxes, table.box);
  const box = element('div', { class: 'road' }, element('div', { class: 'top' }, top.box, broken), more.first, ask, tell, more.cautions);
  function show() {
    sliders.luggage.box.hidden = !(q().people > 0);
    parts.forEach((p) => p.show());
  }
  // a: the answer, or null; state.step: what is still to be confirmed; state.bad_link: it could not be read.
  return { box, show, answer(a, state) {
    const names = names_of(data, q());
    ask.hidden = state.bad_link;
    broken.hidden = !state.bad_link;
    rest.hidden = Boolean(state.step);
    for (const part of [tell, more.first, more.cautions]) part.hidden = !a;
    const example = !a || a.status !== 0 ? '' : a.value.example ? 'example' : a.value.example_load ? 'example_load' : names.invented ? 'example_invented' : '';
    top.show(a, { ...state, example });
    more.show(a, names);
    table.show(a);
  } };
}
