// SPDX-License-Identifier: GPL-3.0-or-later
// The page's words: src/report/describe/english.inc has them, beside the program's, and the build makes
// table.js of it. Sentences that the core speaks (reasons to stop, rules, faults) are shown as it speaks
// them unless a key "stop.WORD", "rule.ID" or "status.TEXT" stands there for them.
import { table } from './table.js';

export const words = Object.fromEntries(table);

export const has = (key) => Object.prototype.hasOwnProperty.call(words, key);

// The words of a key with its {places} filled in.
export function say(key, places = {}) {
  const text = has(key) ? words[key] : key;
  return text.replace(/\{(\w+)\}/g, (whole, name) => (name in places ? String(places[name]) : whole));
}
