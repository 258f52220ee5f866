// SPDX-License-Identifier: GPL-3.0-or-later
// The worker: whole answers, pictures and the larger sample, while the page stays free. It drops
// what it is doing when a newer question has come.
import { Core } from './core.js';

export const MAP = { speeds: 13, loads: 11, speed: [40, 120], load: [0.5, 1.0] };

export const map_axis = ([from, to], count) =>
  Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));

const breath = () => new Promise((resolve) => { setTimeout(resolve, 0); });

export function work(scope) {
  let core, wanted = null, busy = false;

  async function answer(job) {
    const tell = (part, data) => scope.postMessage({ id: job.id, part, data });
    const stale = async () => { await breath(); return wanted !== null; };
    const waits = !core.ready(job.lines, job.first);
    const whole = core.ask(job.lines, job.first, job.us, false);
    if (waits) tell('kept', core.kept(job.first));
    tell('whole', whole);
    if (whole.status !== 0 || (await stale())) return;
    if (job.pictures) {
      tell('way', core.way(job.distance));
      tell('section', core.section(job.distance));
      if (await stale()) return;
    }
    if (job.map && !(await draw_map(tell, stale))) return;
    for (let i = 0; i < 12; i++) { // the larger sample only when nothing has moved for a while
      await new Promise((resolve) => { setTimeout(resolve, 50); });
      if (wanted !== null) return;
    }
    tell('whole', core.ask(job.lines, job.most, job.us, false));
  }

  async function draw_map(tell, stale) {
    const speeds = map_axis(MAP.speed, MAP.speeds), loads = map_axis(MAP.load, MAP.loads);
    const values = [];
    for (const load of loads) {
      for (const speed of speeds) values.push((core.map_place(speed / 3.6, load) || [0])[0]);
      if (await stale()) return false;
    }
    tell('map', values);
    return true;
  }

  async function loop() {
    if (busy) return;
    busy = true;
    while (wanted !== null) {
      const job = wanted;
      wanted = null;
      await answer(job);
    }
    busy = false;
  }

  scope.onmessage = ({ data }) => {
    if (data.module) core = new Core(data.module, data.cube, data.seed);
    else { wanted = data; loop(); }
  };
}
