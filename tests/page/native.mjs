// SPDX-License-Identifier: GPL-3.0-or-later
// The same question put to the program, and its JSON in the units and roundings of the page.
import { spawnSync } from 'node:child_process';
import { tyre_place, vehicle_of } from './page/question.js';

const MILE = 1.609344, POUND_FORCE = 4.4482216152605, PSI = 6.894757293; // 1959 yard and pound agreement

// The words of the command line for a question; profiles by name, so that their way into the page is tried too.
export function words_of(data, q, lines) {
  const out = ['range', '--json', '--seed', String(data.seed)];
  const tyre = q.view === 'class' ? Number(q['c.tyre']) : tyre_place(data, q), vehicle = q.view === 'road' ? vehicle_of(data, q) : null;
  const path = (profile) => (profile.name.endsWith('.cfg') ? `./${profile.name}` : profile.name);
  if (tyre !== null) out.push('--tyre', path(data.tyres[tyre]));
  if (vehicle) out.push('--vehicle', path(vehicle));
  // Speed before the warning, or the table's 100 km/h where that is more: nobody is taken to have slowed down.
  const before = Math.max(100, ...(vehicle ? vehicle.rows.filter(([key]) => key === 'speed_before').map(([, value]) => value) : []));
  for (const [key, value] of (vehicle && vehicle.habits) || []) out.push('--set', `${key}=${value}`);
  for (const [how, key, value] of lines) {
    if (how === 'minutes') out.push('--set', `run=${(value / 60) * before}`);
    else if (how !== 'evidence') out.push('--set', `${key}=${value}`); // that comes with its profile
  }
  return out;
}

export function ask_program(program, words, members) {
  const run = spawnSync(program, [...words, '--members', String(members), '--threads', '1'], { encoding: 'utf8' });
  return run.status === 0 ? { status: 0, json: JSON.parse(run.stdout) } : { status: run.status, json: null, why: run.stderr };
}

const down = (x, d) => Math.floor(x * 10 ** d + 1e-9) / 10 ** d;
const near = (x, d) => Math.round(x * 10 ** d) / 10 ** d;
const up = (x, d) => Math.ceil(x * 10 ** d - 1e-9) / 10 ** d;

// name of the page's field: value, digits after the point.
export function shown(j, us) {
  // whole from ten on, as in the program's text
  const fine = (x) => (x >= 10 ? 0 : 1), long = (round, x) => [round(x, fine(x)), fine(x)];
  const way = (km) => (km === null ? [NaN, 1] : long(down, us ? km / MILE : km)), heat = (c) => [near(us ? c * 1.8 + 32 : c, 0), 0];
  const driven = (km) => long(near, us ? km / MILE : km), share = (x) => [near(100 * x, 1), 1];
  const a = j.answer, r = j.range_km, t = j.temperature_c;
  const out = {
    advised_distance: way(a.advised_distance_km),
    advised_speed: [down(us ? a.advised_speed_kmh / MILE : a.advised_speed_kmh, 0), 0],
    advised_time: [down(a.advised_time_min, 0), 0],
    cap: way(a.cap_km), load: [near(us ? j.inputs.load_n / POUND_FORCE : j.inputs.load_n, 0), 0],
    load_share: share(j.inputs.load_share_of_index), pressure_now: [near(us ? j.inputs.pressure_now_kpa / PSI : j.inputs.pressure_now_kpa, us ? 1 : 0), us ? 1 : 0],
    taken_as_empty: [j.inputs.taken_as_empty ? 1 : 0, 0],
    run_seen: driven(j.inputs.distance_run_km), run_unseen: driven(j.inputs.distance_unseen_km),
    conditioned: [r.advice_conditioned ? 1 : 0, 0],
    share_of_tyres: share(j.rule.share_of_tyres), rule_holds: [j.rule.holds ? 1 : 0, 0],
    now_p50: heat(t.now_p50), peak_p50: heat(t.peak_p50), peak_p95: heat(t.peak_p95), limit: heat(t.limit),
    life_now_p50: share(j.life_used.now_p50), life_at_advised_p50: share(j.life_used.at_advised_p50),
    evidence_items: [j.evidence ? j.evidence.items : 0, 0],
    tested: [j.approval.tested, 0], passed: [j.approval.passed, 0], scrap: [j.condition.verdict === 'scrap' ? 1 : 0, 0],
    rule_count: [j.condition.rules.length, 0], more_count: [a.more_if.length, 0],
  };
  if (j.evidence) out.evidence_worth = [down(j.evidence.effective_sample_size, 0), 0];
  if (r.p5 !== null)
    for (const p of ['p5', 'p50', 'p95']) {
      out[`range_${p}`] = way(r[p]);
      out[`all_${p}`] = way(r.unconditioned[p]);
      out[`advised_${p}`] = way(r.advised[p]);
    }
  if (j.arrival) {
      const chance = j.arrival.chance_of_failing; // not there beyond the advice
      out.chance_of_failing = [typeof chance === 'number' ? up(100 * chance, 1) : NaN, 1];
    out.to_within = [j.arrival.within_advice ? 1 : 0, 0];
  }
  a.more_if.forEach((m, i) => { out[`more${i}_distance`] = way(m.advised_distance_km); out[`more${i}_slower`] = [m.change === 'slower' ? 1 : 0, 0]; });
  return out;
}
