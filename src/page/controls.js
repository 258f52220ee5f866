// SPDX-License-Identifier: GPL-3.0-or-later
// Elements, numbers with their units, and the controls. Texts go in as text, never as markup.
import { say, has } from './words.js';
import { slider_of, CHOICES } from './question.js';

let count = 0;

export function element(name, properties = {}, ...children) {
  const e = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (key in e && typeof value !== 'string') e[key] = value;
    else e.setAttribute(key, value);
  }
  e.append(...children);
  return e;
}

export const put = (e, text) => { if (e.textContent !== text) e.textContent = text; };

// By the kind that the core gives a number: metric, US.
const UNITS = {
  WAY: ['km', 'mi'], DRIVEN: ['km', 'mi'], PACE: ['km/h', 'mph'], SPEED: ['km/h', 'mph'], TIME: ['min', 'min'], HEAT: ['°C', '°F'],
  FORCE: ['N', 'lbf'], AIR: ['kPa', 'psi'], MASS: ['kg', 'lb'], SHARE: ['%', '%'], RISK: ['%', '%'], PLAIN: ['', ''], COUNT: ['', ''],
};
export const unit = (kind, us) => UNITS[kind][us ? 1 : 0];
export function with_unit(number, kind, us) {
  const u = unit(kind, us), text = number.replace('-', '−');
  return u ? `${text}\u00a0${u}` : text;
}

// A field of an answer as the core rounds it; … while it is not there.
export function field(a, name) {
  const value = a && a.value[name];
  if (value === undefined || Number.isNaN(value)) return '…';
  return with_unit(value.toFixed(a.decimals[name]), a.kind[name], a.us);
}

export function slider(key, q, us, changed, label = key) {
  const s = slider_of(key, us), id = `c${++count}`;
  const out = element('output', { for: id });
  const range = element('input', { type: 'range', id, 'data-key': key, min: String(s.least), max: String(s.most), step: String(s.step) });
  const value = () => (q()[key] === null ? s.first : q()[key]); // null: not said
  const show = () => {
    range.value = String(value());
    const number = with_unit(String(value()), s.kind, us);
    const text = q()[key] === null ? say(`${key}.unsaid`, { value: number }) : number;
    put(out, text);
    range.setAttribute('aria-valuetext', text);
  };
  const set = (x) => {
    const unsaid = has(`${key}.unsaid`) && x < s.least; // one step below the least: not said again
    q()[key] = unsaid ? null : Math.min(s.most, Math.max(s.least, Math.round(x / s.step) * s.step));
    show();
    changed(key);
  };
  range.addEventListener('input', () => set(Number(range.value)));
  const button = (sign, word) => {
    const b = element('button', { type: 'button', class: 'step', 'aria-label': `${say(label)}: ${say(word)}`, 'data-step': key + sign }, sign);
    b.addEventListener('click', () => set(value() + (sign === '+' ? s.step : -s.step)));
    return b;
  };
  const box = element('div', { class: 'slider' }, element('div', { class: 'slider-head' }, element('label', { for: id }, say(label)), out),
    button('−', 'less'), range, button('+', 'plus'));
  show();
  return { box, show };
}

export function select(key, options, value, changed) {
  const id = `c${++count}`;
  const list = element('select', { id, 'data-key': key }, ...options.map(([v, text]) => element('option', { value: v }, text)));
  const show = () => { list.value = value(); };
  list.addEventListener('change', () => changed(list.value));
  show();
  return { box: element('div', { class: 'choice' }, element('label', { for: id }, say(key)), list), show };
}

export function choice(key, q, changed) {
  const text = (v) => say(word_key(key, v));
  return select(key, CHOICES[key].map((v) => [v, text(v)]), () => q()[key], (v) => { q()[key] = v; changed(key); });
}

function word_key(key, value) {
  const own = `${key}.${value}`;
  return say(own) === own ? `word.${value}` : own;
}

// The four wheels as they stand seen from above, and that it is not known.
const WHEELS = [...CHOICES.wheel.slice(1), 'unknown'];
export function wheels(q, changed) {
  const name = `w${++count}`;
  const radios = WHEELS.map((v) => {
    const radio = element('input', { type: 'radio', name, value: v, 'data-key': 'wheel' });
    radio.addEventListener('change', () => { q().wheel = v; changed('wheel'); });
    return radio;
  });
  const cells = radios.map((radio, i) => element('label', { class: 'wheel' }, radio, element('span', {}, say(`wheel.${WHEELS[i]}`))));
  const show = () => radios.forEach((radio) => { radio.checked = radio.value === q().wheel; });
  show();
  const box = element('fieldset', { class: 'wheels' }, element('legend', {}, say('wheel')),
    element('div', { class: 'ahead', 'aria-hidden': 'true' }, `↑ ${say('wheel.ahead')}`), ...cells);
  return { box, show };
}

export function press(key, act, more = {}) {
  const b = element('button', { type: 'button', 'data-press': key, ...more }, say(key));
  b.addEventListener('click', () => act(b));
  return b;
}
