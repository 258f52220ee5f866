// SPDX-License-Identifier: GPL-3.0-or-later
// The roadside view: a few large controls and the answer.
import { say } from './words.js';
import { element, slider, select, choice, wheels, put } from './controls.js';
import { glance, details, number_table } from './verdict.js';
import { OWN, seats } from './question.js';

function tyre_controls(data, q, changed) {
  const text = element('input', { type: 'text', id: 'own', 'data-key': 'marking', maxlength: '40', autocomplete: 'off', spellcheck: 'false', 'aria-describedby': 'own-hint' });
  const own = element('div', { class: 'own' }, element('label', { for: 'own' }, say('marking')), text, element('p', { class: 'hint', id: 'own-hint' }, say('marking.hint')));
  const options = [...data.tyres.map((t, i) => [String(i), t.title]), [OWN, say('tyre.own')]];
  const list = select('tyre', options, () => q().tyre, (v) => { q().tyre = v; changed('tyre'); });
  text.addEventListener('input', () => { q().marking = text.value.replace(/[^\x20-\x7e]/g, ''); changed('marking'); });
  const show = () => { list.show(); own.hidden = q().tyre !== OWN; if (text.value !== q().marking) text.value = q().marking; };
  return { boxes: [list.box, own], show };
}

export function roadside(data, q, moved) {
  const top = glance(), more = details(), table = number_table();
  const parts = [];
  const changed = (key) => { show(key === undefined); moved(); };
  const vehicle = select('vehicle', data.vehicles.map((v, i) => [String(i), v.title]), () => String(q().vehicle), (v) => {
    q().vehicle = Number(v);
    q().tyre = String(data.vehicles[q().vehicle].tyre);
    changed();
  });
  const tyre = tyre_controls(data, q, () => changed());
  const wheel = wheels(q, changed);
  const sliders = ['people', 'luggage', 'ambient', 'speed', 'to', 'since'].map((key) => slider(key, q, data.us, changed));
  const known = ['age', 'ran_flat', 'repaired', 'trailer', 'flat_tyres'].map((key) => choice(key, q, changed));
  parts.push(vehicle, tyre, wheel, ...sliders, ...known);
  function show(all) {
    sliders[0].limit(seats(data, q()));
    if (all) parts.forEach((p) => p.show());
  }
  const example = element('p', { class: 'example', hidden: true });
  const fold = element('details', { class: 'known' }, element('summary', {}, say('known')), element('p', { class: 'hint' }, say('known.hint')), ...known.map((k) => k.box));
  const ask = element('section', { class: 'ask' }, element('h2', {}, say('ask')),
    ...(data.vehicles.length ? [vehicle.box] : []), ...tyre.boxes, wheel.box, ...sliders.map((s) => s.box), fold);
  const box = element('div', { class: 'road' }, example, top.box, ask, element('div', { class: 'tell' }, ...more.boxes, table.box), more.cautions);
  return { box, show: () => show(true), answer(a) {
    example.hidden = !(a && a.status === 0 && (a.value.example || a.value.example_load));
    if (!example.hidden) put(example, say(a.value.example ? 'example' : 'example_load'));
    top.show(a);
    more.show(a);
    table.show(a);
  } };
}
