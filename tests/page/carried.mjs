// SPDX-License-Identifier: GPL-3.0-or-later
// What a page file carries, and its core without a browser.
import fs from 'node:fs';
import zlib from 'node:zlib';
import { Core, cube_of } from './page/core.js';

export function open_page(path) {
  const html = fs.readFileSync(path, 'utf8');
  const part = (id) => html.match(new RegExp(`<script [^>]*id="${id}">([^<]*)</script>`))[1];
  const data = JSON.parse(part('data'));
  const module = new WebAssembly.Module(zlib.gunzipSync(Buffer.from(part('module'), 'base64')));
  return { html, data, module, core: new Core(module, cube_of(data), data.seed) };
}

// Questions that are the same every time: a linear congruential sequence (MINSTD, Park and Miller,
// Comm. ACM 31 (1988) 1192).
export function dice(seed) {
  let state = seed;
  const next = () => (state = (state * 48271) % 2147483647) / 2147483647;
  return { next, pick: (list) => list[Math.floor(next() * list.length)] };
}
