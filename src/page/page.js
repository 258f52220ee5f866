// SPDX-License-Identifier: GPL-3.0-or-later
// Starts the page: reads what the file carries, answers at every move, hands the rest to a worker.
import { Core, cube_of, unpack } from './core.js';
import { say, words } from './words.js';
import { element, press, put } from './controls.js';
import { from_fragment, to_fragment, lines_of, class_lines, built_in, next_step } from './question.js';
import { roadside } from './roadside.js';
import { classroom } from './classroom.js';
import { work } from './work.js';

const FIRST = 500, MOST = 2000; // sample types at every move, and when nothing moves
const REST_MS = 120;
const carried = (id) => document.getElementById(id).textContent;

function start_worker(module, cube, seed, hear) {
  try {
    const url = URL.createObjectURL(new Blob([carried('script')], { type: 'text/javascript' }));
    const worker = new Worker(url);
    worker.onmessage = hear;
    worker.postMessage({ module, cube, seed });
    return worker;
  } catch {
    return null; // the page then gives whole answers itself, a little later
  }
}

class Page {
  constructor(data, module) {
    this.data = data;
    this.cube = cube_of(data);
    this.core = new Core(module, this.cube, data.seed);
    this.read_link();
    this.id = 0;
    this.map_key = '';
    this.redraws = [];
    const get = () => this.q, moved = () => this.moved();
    this.views = {
      road: roadside(data, get, moved, () => this.anew()),
      class: classroom(data, get, moved, (lines) => this.core.ask(lines, FIRST, data.us, false), () => this.distance()),
    };
    this.worker = start_worker(module, this.cube, data.seed, (m) => this.hear(m.data));
    this.build();
    addEventListener('hashchange', () => this.from_link());
  }

  // A link that cannot be read is no question: there is no answer until the page starts anew.
  read_link() {
    const { q, good } = from_fragment(this.data, location.hash);
    this.q = q;
    this.bad_link = !good;
  }

  anew() {
    this.q = { ...built_in(this.data), view: this.q.view };
    this.bad_link = false;
    this.show();
  }

  build() {
    const tabs = Object.keys(this.views).map((key) => press(`view.${key}`, () => { this.q.view = key; this.show(); }, { 'aria-pressed': 'false' }));
    this.tabs = tabs;
    const first = element('p', { class: 'first', role: 'note' }, element('strong', {}, say('first')), ` ${say('first.more')}`);
    this.link = element('input', { type: 'text', readOnly: true, id: 'link', class: 'link' });
    const share_note = element('span', { role: 'status' });
    const share = element('details', { class: 'share' }, element('summary', {}, say('share')), element('label', { for: 'link' }, say('share.link')), this.link,
      press('share.copy', async () => put(share_note, await copy(this.link))), share_note);
    const buttons = element('div', { class: 'buttons' }, press('print', () => print()), press('anew', () => this.anew()));
    const foot = element('footer', {}, share, buttons, element('p', {}, say('invented')),
      element('p', {}, say('foot', { name: words.name, version: this.core.version })));
    const main = element('main', {}, first, ...Object.values(this.views).map((v) => v.box));
    document.body.replaceChildren(element('header', {}, element('h1', {}, words.name), element('nav', { 'aria-label': say('view.label') }, ...tabs)), main, foot);
    document.documentElement.lang = words.lang;
    document.title = `${words.name}: ${say('about')}`;
    this.show();
  }

  from_link() {
    if (location.hash.replace(/^#/, '') === this.fragment) return; // our own
    this.read_link();
    this.show();
  }

  show() {
    Object.entries(this.views).forEach(([key, view], i) => {
      view.box.hidden = key !== this.q.view;
      this.tabs[i].setAttribute('aria-pressed', String(key === this.q.view));
    });
    document.body.dataset.view = this.q.view;
    this.views[this.q.view].show();
    this.moved();
  }

  distance() { return 100e3; }
  lines() { return this.q.view === 'road' ? lines_of(this.data, this.q) : class_lines(this.data, this.q, this.views.class.extra()); }

  // Every move of a control: the answer with the first sample at once, the rest behind it.
  moved() {
    if (this.frame) return;
    this.frame = requestAnimationFrame(() => { this.frame = 0; this.redraw(); });
  }

  // What the views need to know of an answer that is not in it.
  state(a) {
    return { step: this.q.view === 'road' ? next_step(this.data, this.q) : '', bad_link: this.bad_link,
      rough: Boolean(this.worker && a && a.members < MOST) };
  }

  redraw() {
    const began = performance.now();
    const state = this.state(null), asked = !state.bad_link && !state.step;
    const lines = asked ? this.lines() : [];
    if (asked && !this.core.ready(lines, FIRST)) { this.wait(lines); return; }
    const a = asked ? this.core.ask(lines, FIRST, this.data.us, true) : null;
    this.views[this.q.view].answer(a, this.state(a));
    document.body.dataset.members = String(asked ? FIRST : 0);
    this.redraws.push(performance.now() - began);
    if (this.redraws.length > 2000) this.redraws.shift();
    this.id++;
    clearTimeout(this.alone);
    clearTimeout(this.sending); // while a slider moves, the processor is the page's
    if (a && a.status === 0) this.sending = setTimeout(() => this.send(lines), REST_MS);
    clearTimeout(this.linking);
    if (!state.bad_link) this.linking = setTimeout(() => this.write_link(), 400);
  }

  // Evidence is to be taken in first: seconds, in which the page says so and stays free. There is no answer
  // until it is done.
  wait(lines) {
    this.views[this.q.view].answer(null, { ...this.state(null), taking_in: true });
    document.body.dataset.members = '0';
    this.id++;
    for (const timer of [this.alone, this.sending, this.linking]) clearTimeout(timer);
    this.linking = setTimeout(() => this.write_link(), 400);
    if (this.worker) this.send(lines);
    else this.alone = setTimeout(() => { this.core.ask(lines, FIRST, this.data.us, true); this.moved(); }, 50); // after it is shown
  }

  send(lines) {
    const pictures = this.q.view === 'class';
    const key = JSON.stringify(lines.filter(([, name]) => name !== 'speed' && name !== 'load_share'));
    const map = pictures && key !== this.map_key;
    if (map) this.views.class.part('map.late');
    this.wanted_map = key;
    if (this.worker) this.worker.postMessage({ id: this.id, lines, us: this.data.us, first: FIRST, most: MOST, pictures, map, distance: this.distance() });
    else { clearTimeout(this.alone); this.alone = setTimeout(() => this.without_worker(lines, pictures), 250); }
  }

  without_worker(lines, pictures) {
    this.hear({ id: this.id, part: 'whole', data: this.core.ask(lines, FIRST, this.data.us, false) });
    if (!pictures) return;
    this.hear({ id: this.id, part: 'way', data: this.core.way(this.distance()) });
    this.hear({ id: this.id, part: 'section', data: this.core.section(this.distance()) });
  }

  hear({ id, part, data }) {
    if (part === 'kept') {
      if (data) { this.core.keep(data); this.moved(); } // else the whole answer behind it says why
      return;
    }
    if (id !== this.id) return;
    const view = this.views[this.q.view];
    if (part === 'whole') { this.answer = data; view.answer(data, this.state(data)); document.body.dataset.members = String(data.members); } else view.part(part, data);
    if (part === 'map') this.map_key = this.wanted_map;
  }

  write_link() {
    this.fragment = to_fragment(this.data, this.q);
    history.replaceState(null, '', `#${this.fragment}`);
    this.link.value = location.href;
  }
}

async function copy(input) {
  try {
    await navigator.clipboard.writeText(input.value);
    return say('share.done');
  } catch {
    input.focus();
    input.select();
    return say('share.manual');
  }
}

async function begin() {
  try {
    const module = await WebAssembly.compile(await unpack(carried('module')));
    window.hobble_page = new Page(JSON.parse(carried('data')), module);
    document.body.dataset.ready = 'yes';
  } catch (fault) {
    document.body.replaceChildren(element('p', { class: 'first', role: 'alert' }, say('broken')));
    document.body.dataset.ready = 'no';
    throw fault;
  }
}

if (typeof document === 'undefined') work(self);
else begin();
