// SPDX-License-Identifier: GPL-3.0-or-later
// Six guided lessons: settings, a question, and its answer out of the core at the moment it is shown.
// set: sliders in metric units; find: what the answer's places are, from answers at other settings.
import { say } from './words.js';
import { element, field, press } from './controls.js';
import { after_of } from './verdict.js';

const at = (ask, change, name) => field(ask(change), name);

export const LESSONS = [
  { vehicle: 'estate', set: { 'c.speed': 80, 'c.load': 80, 'c.ambient': 25, 'c.pressure': 0 },
    find: (ask) => ({ base: at(ask, {}, 'range_p50'), slow: at(ask, { 'c.speed': 60 }, 'range_p50'), light: at(ask, { 'c.load': 60 }, 'range_p50') }) },
  { vehicle: 'estate', set: { 'c.speed': 80, 'c.load': 65, 'c.ambient': 25, 'c.pressure': 0 },
    find: (ask) => ({ light: at(ask, {}, 'share_of_tyres').replace(/[^0-9.]/g, ''), heavy: at(ask, { 'c.load': 90 }, 'share_of_tyres').replace(/[^0-9.]/g, '') }) },
  { vehicle: 'hatchback', set: { 'c.speed': 80, 'c.load': 70, 'c.ambient': 36, 'c.pressure': 0 },
    find: (ask) => ({ cold: at(ask, { 'c.ambient': -10 }, 'range_p5'), hot: at(ask, {}, 'range_p5') }) },
  { vehicle: 'minibus', set: { 'c.speed': 60, 'c.load': 75, 'c.ambient': 25, 'c.pressure': 0 },
    find: (ask) => { const a = ask({}); return { life: field(a, 'life_now_p50'), unseen: field(a, 'run_unseen') }; } },
  { vehicle: 'estate', set: { 'c.speed': 80, 'c.load': 75, 'c.ambient': 25, 'c.pressure': 50 },
    find: (ask) => { const some = ask({}), no = ask({ 'c.pressure': 0 });
      return { some: field(some, 'range_p50'), no: field(no, 'range_p50'), advice_some: field(some, 'advised_distance'), advice_no: field(no, 'advised_distance') }; } },
  { vehicle: 'hatchback', set: { 'c.speed': 40, 'c.load': 55, 'c.ambient': 15, 'c.pressure': 0 },
    more: [['number', 'unseen', 0], ['number', 'run', 3], ['number', 'run_speed', 40]],
    find: (ask) => { const a = ask({}), after = after_of(a), verdict = after[0], reason = after[after.length - a.rules.length] || ''; return { life: field(a, 'drive_life_p95'), verdict, reason }; } },
];

// choose(lesson): sets the sliders; ask(lesson, change): a whole answer there.
export function lessons_panel(choose, ask) {
  const panel = element('section', { class: 'lessons' }, element('h3', {}, say('lessons')), element('p', {}, say('lessons.text')));
  const body = element('div', { class: 'lesson', 'aria-live': 'polite' });
  const buttons = LESSONS.map((lesson, i) => {
    const b = element('button', { type: 'button', 'data-lesson': String(i + 1), 'aria-pressed': 'false' }, `${i + 1} ${say(`lesson.${i + 1}`)}`);
    b.addEventListener('click', () => open(lesson, i + 1));
    return b;
  });
  function open(lesson, n) {
    buttons.forEach((b, i) => b.setAttribute('aria-pressed', String(i + 1 === n)));
    choose(lesson);
    const answer = element('p', { class: 'answer', 'data-answer': 'lesson' });
    const show = press('lesson.show', () => {
      answer.textContent = say(`lesson.${n}.answer`, lesson.find((change) => ask(lesson, change)));
      show.disabled = true;
    });
    body.replaceChildren(element('p', {}, say(`lesson.${n}.text`)), element('p', { class: 'question' }, say(`lesson.${n}.ask`)), show, answer);
  }
  panel.append(element('div', { class: 'pick' }, ...buttons), body);
  return panel;
}
