// SPDX-License-Identifier: GPL-3.0-or-later
// Counts checks; ends the process with the sum and a status that says whether any failed.
let passed = 0, failed = 0;
export function check(good, what) {
  if (good) { passed++; return true; }
  failed++;
  console.log(`FAIL ${what}`);
  return false;
}
export function sum(name) {
  console.log(`${name}: ${passed} checks passed, ${failed} failed`);
  process.exitCode = failed > 0 || passed === 0 ? 1 : 0;
}
