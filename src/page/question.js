// SPDX-License-Identifier: GPL-3.0-or-later
// What is asked: every control's limits, the link fragment, and the lines that the core is given.

// Shown unit to the row's unit, by kind; a control's numbers are kept as they are shown.
const TO_ROW = {
  SPEED: [(x) => x, (x) => x * 1.609344], HEAT: [(x) => x, (x) => (x - 32) / 1.8],
  WAY: [(x) => x, (x) => x * 1.609344], MASS: [(x) => x, (x) => x * 0.45359237],
  AIR: [(x) => x, (x) => x * 6.894757293], TIME: [(x) => x, (x) => x],
  SHARE: [(x) => x / 100, (x) => x / 100], COUNT: [(x) => x, (x) => x],
};
export const to_row = (kind, us, shown) => TO_ROW[kind][us ? 1 : 0](shown);

// Sliders: kind, then [least, most, step, at first] in metric and in US units.
export const SLIDERS = {
  people: { kind: 'COUNT', metric: [1, 9, 1, 2], us: [1, 9, 1, 2] },
  luggage: { kind: 'MASS', metric: [0, 400, 10, 0], us: [0, 900, 20, 0] },
  ambient: { kind: 'HEAT', metric: [-30, 50, 1, 25], us: [-20, 120, 1, 77] },
  speed: { kind: 'SPEED', metric: [30, 80, 5, 60], us: [20, 50, 5, 40] },
  to: { kind: 'WAY', metric: [1, 120, 1, 20], us: [1, 80, 1, 12] },
  since: { kind: 'TIME', metric: [0, 60, 1, 0], us: [0, 60, 1, 0] },
  'c.speed': { kind: 'SPEED', metric: [30, 130, 1, 80], us: [20, 80, 1, 50] },
  'c.load': { kind: 'SHARE', metric: [40, 110, 1, 75], us: [40, 110, 1, 75] },
  'c.ambient': { kind: 'HEAT', metric: [-20, 45, 1, 25], us: [-4, 112, 1, 77] },
  'c.pressure': { kind: 'AIR', metric: [0, 200, 5, 0], us: [0, 30, 1, 0] },
};

const UNKNOWN = ['unknown', 'no', 'yes'];
export const CHOICES = {
  wheel: ['front_left', 'front_right', 'rear_left', 'rear_right'],
  age: ['unknown', 'young', 'old'],
  ran_flat: UNKNOWN, repaired: UNKNOWN,
  trailer: ['no', 'yes'], flat_tyres: ['1', '2'],
};
const AGE_YEARS = { young: 5, old: 10 };
export const OWN = '*'; // the tyre that is typed in
const MARKING_MOST = 40, FRAGMENT_MOST = 1024;

export const slider_of = (key, us) => {
  const [least, most, step, first] = SLIDERS[key][us ? 'us' : 'metric'];
  return { kind: SLIDERS[key].kind, least, most, step, first };
};

export function built_in(data) {
  const q = { view: 'road', vehicle: data.vehicles.length ? 0 : -1, marking: '' };
  for (const key of Object.keys(SLIDERS)) q[key] = slider_of(key, data.us).first;
  for (const [key, list] of Object.entries(CHOICES)) [q[key]] = list;
  q.tyre = q.vehicle >= 0 ? String(data.vehicles[0].tyre) : '0';
  return q;
}

export const seats = (data, q) => {
  const vehicle = data.vehicles[q.vehicle];
  return vehicle ? vehicle.seats : SLIDERS.people.metric[1];
};

// ---- the fragment ---------------------------------------------------------------------------

const whole = /^-?[0-9]{1,6}(\.[0-9]{1,3})?$/;

function read_one(data, q, key, text) {
  if (key in SLIDERS) {
    const s = slider_of(key, data.us), x = whole.test(text) ? Number(text) : NaN;
    if (!(x >= s.least && x <= s.most)) return false;
    q[key] = x;
    return true;
  }
  if (key in CHOICES) return CHOICES[key].includes(text) && ((q[key] = text), true);
  if (key === 'view') return ['road', 'class'].includes(text) && ((q.view = text), true);
  if (key === 'vehicle') {
    const place = data.vehicles.findIndex((v) => v.name === text);
    return place >= 0 && ((q.vehicle = place), true);
  }
  if (key === 'tyre') {
    const place = text === OWN ? OWN : data.tyres.findIndex((t) => t.name === text);
    return place !== -1 && ((q.tyre = String(place)), true);
  }
  // Which markings there are is for the core to say; here only what could not be one is refused.
  if (key === 'marking') return text.length <= MARKING_MOST && /^[\x20-\x7e]*$/.test(text) && ((q.marking = text), true);
  return key === 'us' && text === (data.us ? '1' : '0');
}

// { q, good }: unusable parts fall back to the built-in values, and good is false then.
export function from_fragment(data, fragment) {
  const q = built_in(data);
  let good = fragment.length <= FRAGMENT_MOST;
  const seen = new Set();
  if (good)
    for (const [key, text] of new URLSearchParams(fragment.replace(/^#/, ''))) {
      const known = typeof key === 'string' && Object.prototype.hasOwnProperty.call({ ...SLIDERS, ...CHOICES, view: 1, vehicle: 1, tyre: 1, marking: 1, us: 1 }, key);
      if (!known || seen.has(key) || !read_one(data, q, key, text)) good = false;
      seen.add(key);
    }
  q.people = Math.min(q.people, seats(data, q));
  return { q: good ? q : built_in(data), good };
}

export function to_fragment(data, q) {
  const out = new URLSearchParams();
  const keys = q.view === 'road' ? (k) => !k.startsWith('c.') : (k) => k.startsWith('c.');
  out.set('view', q.view);
  out.set('us', data.us ? '1' : '0');
  if (q.view === 'road' && q.vehicle >= 0) out.set('vehicle', data.vehicles[q.vehicle].name);
  out.set('tyre', q.tyre === OWN ? OWN : data.tyres[Number(q.tyre)].name);
  if (q.tyre === OWN) out.set('marking', q.marking);
  for (const key of Object.keys(SLIDERS).filter(keys)) out.set(key, String(q[key]));
  for (const key of Object.keys(CHOICES)) if (q.view === 'road') out.set(key, q[key]);
  return out.toString();
}

// ---- lines for the core ---------------------------------------------------------------------

const profile_lines = (profile) =>
  profile.rows.flatMap(([key, value, spread]) => [
    typeof value === 'string' ? [key === 'marking' ? 'marking' : 'word', key, value] : ['number', key, value],
    ...(spread === undefined ? [] : [['spread', key, spread]]),
  ]);

const tyre_lines = (data, q) =>
  q.tyre === OWN ? [['marking', 'marking', q.marking]] : profile_lines(data.tyres[Number(q.tyre)]);

const row = (data, q, key, of = key) => ['number', of, to_row(SLIDERS[key].kind, data.us, q[key])];

export function road_lines(data, q) {
  const lines = tyre_lines(data, q);
  if (q.vehicle >= 0)
    lines.push(...profile_lines(data.vehicles[q.vehicle]), ['word', 'wheel', q.wheel],
      ['number', 'people', q.people], row(data, q, 'luggage'));
  lines.push(row(data, q, 'ambient'), row(data, q, 'speed'), row(data, q, 'to'), ['minutes', 'run', q.since],
    ['word', 'trailer', q.trailer], ['number', 'flat_tyres', Number(q.flat_tyres)]);
  if (q.age in AGE_YEARS) lines.push(['number', 'age', AGE_YEARS[q.age]]);
  for (const key of ['ran_flat', 'repaired']) if (q[key] !== 'unknown') lines.push(['word', key, q[key]]);
  return lines;
}

// In the classroom the tyre is taken to be young, never run flat and never repaired: what is
// taught is the model, and the answer says so.
export function class_lines(data, q, more = []) {
  return [...tyre_lines(data, q), ['number', 'age', 0], ['word', 'ran_flat', 'no'], ['word', 'repaired', 'no'],
    row(data, q, 'c.speed', 'speed'), row(data, q, 'c.load', 'load_share'), row(data, q, 'c.ambient', 'ambient'),
    row(data, q, 'c.pressure', 'pressure'), ...more];
}

export const lines_of = (data, q) => (q.view === 'road' ? road_lines(data, q) : class_lines(data, q));
