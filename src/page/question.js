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
  wheel: ['unknown', 'front_left', 'front_right', 'rear_left', 'rear_right'],
  age: ['unknown', 'young', 'old'],
  ran_flat: UNKNOWN, repaired: UNKNOWN,
  trailer: ['no', 'yes'], flat_tyres: ['1', '2'],
};
const AGE_YEARS = { young: 5, old: 10 };
export const BUILT = ['unknown', 'self_supporting', 'extended_mobility', 'conventional']; // words of the row "construction"
export const OWN = '*';    // the tyre that is typed in
export const FITTED = '+'; // the tyre that the vehicle has, on that axle
export const OTHER = -1;   // a vehicle that is not in the list
// Not said until someone says it: null. The core then takes what it takes, and names it.
export const OPTIONAL = ['people', 'since', 'luggage', 'ambient', 'to'];
export const MARKING_MOST = 100; // as the core reads it
const FRAGMENT_MOST = 1024;

export const slider_of = (key, us) => {
  const [least, most, step, first] = SLIDERS[key][us ? 'us' : 'metric'];
  return { kind: SLIDERS[key].kind, least, most, step, first };
};

// Nothing is confirmed: vehicle, tyre and what is optional are null.
export function built_in(data) {
  const q = { view: 'road', vehicle: null, tyre: null, marking: '', built: 'unknown', 'c.tyre': '0' };
  for (const key of Object.keys(SLIDERS)) q[key] = OPTIONAL.includes(key) ? null : slider_of(key, data.us).first;
  for (const [key, list] of Object.entries(CHOICES)) [q[key]] = list;
  if (data.vehicles.length) q['c.tyre'] = String(data.vehicles[0].tyre);
  return q;
}

export const vehicle_of = (data, q) => (q.vehicle === null || q.vehicle === OTHER ? null : data.vehicles[q.vehicle]);
export const seats = (data, q) => (vehicle_of(data, q) ? vehicle_of(data, q).seats : 0);
export const two_tyres = (data, q) => q.tyre === FITTED && vehicle_of(data, q) !== null && vehicle_of(data, q).rear_tyre !== undefined;

// Place of the tyre in the list; null for one that is typed in, or not known yet.
export function tyre_place(data, q) {
  if (q.tyre === null || q.tyre === OWN) return null;
  if (q.tyre !== FITTED) return Number(q.tyre);
  const v = vehicle_of(data, q);
  return v === null ? null : two_tyres(data, q) && q.wheel.startsWith('rear') ? v.rear_tyre : v.tyre;
}

// The three things that must be confirmed before there is an answer, in their order.
export const STEPS = ['car', 'load', 'since'];
export const confirmed = {
  car: (data, q) => q.vehicle !== null && q.tyre !== null && (q.tyre !== OWN || q.marking.trim() !== '') &&
    !(two_tyres(data, q) && q.wheel === 'unknown'),
  load: (data, q) => q.vehicle !== null && q.people !== null,
  since: (data, q) => q.since !== null,
};
export const next_step = (data, q) => STEPS.find((step) => !confirmed[step](data, q)) || '';

// Another car: who is in it has to be said again.
export function choose_car(q, vehicle, tyre, marking = '', built = 'unknown') {
  Object.assign(q, { vehicle, tyre, marking, built, people: null, luggage: null });
}

// ---- the fragment ---------------------------------------------------------------------------

const whole = /^-?[0-9]{1,6}(\.[0-9]{1,3})?$/;

const place_of = (list, text) => list.findIndex((entry) => entry.name === text);

function read_one(data, q, key, text) {
  if (key === 'people' && text === '0') { q.people = 0; return true; }
  if (key in SLIDERS) {
    const s = slider_of(key, data.us), x = whole.test(text) ? Number(text) : NaN;
    if (!(x >= s.least && x <= s.most)) return false;
    q[key] = x;
    return true;
  }
  if (key in CHOICES) return CHOICES[key].includes(text) && ((q[key] = text), true);
  if (key === 'view') return ['road', 'class'].includes(text) && ((q.view = text), true);
  if (key === 'vehicle') {
    q.vehicle = text === '-' ? OTHER : place_of(data.vehicles, text);
    return text === '-' || q.vehicle >= 0;
  }
  if (key === 'tyre' || key === 'c.tyre') {
    const own = key === 'tyre' && [OWN, FITTED].includes(text);
    q[key] = own ? text : String(place_of(data.tyres, text));
    return q[key] !== '-1';
  }
  if (key === 'built') return BUILT.includes(text) && ((q.built = text), true);
  // Which markings there are is for the core to say; here only what could not be one is refused.
  if (key === 'marking') return text.length <= MARKING_MOST && /^[\x20-\x7e]*$/.test(text) && ((q.marking = text), true);
  return key === 'us' && text === (data.us ? '1' : '0');
}

const KNOWN = new Set([...Object.keys(SLIDERS), ...Object.keys(CHOICES), 'view', 'vehicle', 'tyre', 'c.tyre', 'marking', 'built', 'us']);

// Whether the parts go together: people where there are seats, a fitted tyre where there is a vehicle.
const together = (data, q) => (q.people === null || q.people <= seats(data, q)) && (q.luggage === null || q.people > 0) &&
  (q.tyre !== FITTED || vehicle_of(data, q) !== null) && (q.tyre === OWN || q.marking === '');

// { q, good }: when any part cannot be used nothing of the link is, and good is false.
export function from_fragment(data, fragment) {
  const q = built_in(data), seen = new Set();
  let good = fragment.length <= FRAGMENT_MOST;
  if (good)
    for (const [key, text] of new URLSearchParams(fragment.replace(/^#/, ''))) {
      if (!KNOWN.has(key) || seen.has(key) || !read_one(data, q, key, text)) good = false;
      seen.add(key);
    }
  good = good && together(data, q);
  return { q: good ? q : built_in(data), good };
}

export function to_fragment(data, q) {
  const out = new URLSearchParams(), road = q.view === 'road';
  const keys = Object.keys(SLIDERS).filter((key) => key.startsWith('c.') !== road && q[key] !== null);
  out.set('view', q.view);
  out.set('us', data.us ? '1' : '0');
  if (road && q.vehicle !== null) out.set('vehicle', q.vehicle === OTHER ? '-' : data.vehicles[q.vehicle].name);
  if (road && q.tyre !== null) out.set('tyre', [OWN, FITTED].includes(q.tyre) ? q.tyre : data.tyres[Number(q.tyre)].name);
  if (road && q.tyre === OWN) { out.set('marking', q.marking); out.set('built', q.built); }
  if (!road) out.set('c.tyre', data.tyres[Number(q['c.tyre'])].name);
  for (const key of keys) out.set(key, String(q[key]));
  for (const key of Object.keys(CHOICES)) if (road) out.set(key, q[key]);
  return out.toString();
}

// ---- lines for the core ---------------------------------------------------------------------

const profile_lines = (profile) => [
  ...profile.rows.flatMap(([key, value, spread]) => [
    [typeof value === 'string' ? 'text' : 'number', key, value],
    ...(spread === undefined ? [] : [['spread', key, spread]]),
  ]),
  ...(profile.evidence || []).map((item) => ['evidence', 'evidence', item]),
];

const tyre_lines = (data, q) =>
  q.tyre === OWN ? [['text', 'marking', q.marking], ['text', 'construction', q.built]] : profile_lines(data.tyres[tyre_place(data, q)]);

const row = (data, q, key, of = key) => ['number', of, to_row(SLIDERS[key].kind, data.us, q[key])];

// Who is in a vehicle is not known: its axles then are at their limits. A vehicle that is not known: the
// wheel is at the limit of its tyre.
function load_lines(data, q) {
  const vehicle = vehicle_of(data, q);
  if (vehicle === null) return [['number', 'load_share', 1]];
  const lines = profile_lines(vehicle);
  if (q.wheel !== 'unknown') lines.push(['text', 'wheel', q.wheel]);
  if (q.people > 0) lines.push(['number', 'people', q.people]);
  if (q.people > 0 && q.luggage !== null) lines.push(row(data, q, 'luggage'));
  return lines;
}

// Of a question whose three parts are confirmed.
export function road_lines(data, q) {
  const lines = [...tyre_lines(data, q), ...load_lines(data, q), row(data, q, 'speed'), ['minutes', 'run', q.since],
    ['text', 'trailer', q.trailer], ['number', 'flat_tyres', Number(q.flat_tyres)]];
  for (const key of ['ambient', 'to']) if (q[key] !== null) lines.push(row(data, q, key));
  if (q.age in AGE_YEARS) lines.push(['number', 'age', AGE_YEARS[q.age]]);
  for (const key of ['ran_flat', 'repaired']) if (q[key] !== 'unknown') lines.push(['text', key, q[key]]);
  return lines;
}

// In the classroom the tyre is taken to be young, never run flat and never repaired: what is
// taught is the model, and the answer says so.
export function class_lines(data, q, more = []) {
  return [...profile_lines(data.tyres[Number(q['c.tyre'])]), ['number', 'age', 0], ['text', 'ran_flat', 'no'], ['text', 'repaired', 'no'],
    row(data, q, 'c.speed', 'speed'), row(data, q, 'c.load', 'load_share'), row(data, q, 'c.ambient', 'ambient'),
    row(data, q, 'c.pressure', 'pressure'), ...more];
}

export const lines_of = (data, q) => (q.view === 'road' ? road_lines(data, q) : class_lines(data, q));
